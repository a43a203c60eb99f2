import type { AskedChord, JudgedChord } from '../../music/chords/heard.ts';
import { createHistory } from '../live/history.ts';
import { hearStrums } from './hearStrums.ts';
import { judgeStrum } from './judge.ts';
import type { JudgeOptions } from './judge.ts';

/** A chord that a stroke may answer from one sample of the stream to another. */
export interface LiveAsked {
  readonly chord: AskedChord;
  readonly fromSample: number;
  readonly toSample: number;
}

/** What a stroke was, told while it still rings. Provisional: what is marked is the take, heard again whole. */
export interface LiveChord {
  /** The attack that it was asked about, samples of the stream. */
  readonly atSample: number;
  /** Index into what was asked. */
  readonly asked: number;
  readonly judged: JudgedChord;
}

/** Answers strokes of an endless stream, each about half a second after its first string. */
export interface LiveChords {
  /** An attack was noticed there. */
  attack(atSample: number): void;
  /** @returns what came to be known with this block; mostly nothing */
  push(block: Float32Array): readonly LiveChord[];
}

/**
 * A verdict needs 0.4 s of the chord, and a first string may be placed 60 ms after the attack that was noticed. With so much sound 40 of
 * 40 verdicts (nylon, clean) were those of the whole strum.
 */
const ANSWER_AFTER_SEC = 0.45;
/** Attacks so near to one another are one rake. */
const RAKE_SEC = 0.17;
/** Heard with what came before: the ear looks for a rise. */
const BEFORE_SEC = 0.35;
/** A strum answers an attack that lies so near to it. */
const NEAR_SEC = 0.12;
const RANK = { yes: 0, 'cannot-tell': 1, no: 2 } as const;
const NOTHING: readonly LiveChord[] = [];

/** @throws RangeError for a rate out of range, at the first stroke */
export function createLiveChords(
  sampleRate: number,
  asked: readonly LiveAsked[],
  options: JudgeOptions = {},
): LiveChords {
  const samples = (seconds: number): number => Math.round(seconds * sampleRate);
  const history = createHistory(samples(BEFORE_SEC + ANSWER_AFTER_SEC + 0.3));
  let pending: number | null = null;

  function answer(at: number): readonly LiveChord[] {
    const from = Math.max(history.start(), at - samples(BEFORE_SEC));
    const sound = history.view(from, history.end());
    const strums = hearStrums(sound, sampleRate, {
      expectedSec: [(at - from) / sampleRate],
      withinSec: 0.05,
    });
    const off = (firstSec: number): number => Math.abs(firstSec * sampleRate + from - at);
    const strum = strums
      .filter(({ firstSec }) => off(firstSec) <= samples(NEAR_SEC))
      .sort((a, b) => off(a.firstSec) - off(b.firstSec))[0];
    if (!strum) return NOTHING;
    const told = asked.flatMap(({ chord, fromSample, toSample }, index): LiveChord[] =>
      at >= fromSample && at <= toSample
        ? [{ atSample: at, asked: index, judged: judgeStrum(strum, chord, options) }]
        : [],
    );
    told.sort((a, b) => RANK[a.judged.verdict] - RANK[b.judged.verdict]);
    const [best] = told;
    // A knock or a click is nobody's chord: what cannot be looked at is left to the take.
    const doubt = best?.judged.doubt ?? null;
    return best && (doubt === null || doubt === 'close') ? [best] : NOTHING;
  }

  return {
    attack(atSample) {
      if (pending === null || atSample - pending > samples(RAKE_SEC)) pending = atSample;
    },
    push(block) {
      history.append(block);
      if (pending === null || history.end() < pending + samples(ANSWER_AFTER_SEC)) return NOTHING;
      const at = pending;
      pending = null;
      return answer(at);
    },
  };
}

/** Seconds and fundamentals of a made stroke. */
const PRACTISED_SEC = 0.9;
const PRACTISED_HZ = [110, 164.8, 220, 277.2, 329.6] as const;
const PRACTISED_TIMES = 3;

/**
 * Answers made strokes to nobody, so that the code is compiled and its tables are made before the first real one: that came 0.8 s after
 * its string without, in Chromium on a busy machine, and the others 0.53 to 0.57.
 */
export function practiseChords(sampleRate: number): void {
  const sound = new Float32Array(Math.round(PRACTISED_SEC * sampleRate));
  const from = Math.round(0.3 * sampleRate);
  for (let i = from; i < sound.length; i++)
    for (const hz of PRACTISED_HZ)
      for (let n = 1; n <= 4; n++)
        sound[i] = sound[i]! + (0.03 / n) * Math.sin((2 * Math.PI * n * hz * (i - from)) / sampleRate);
  const chord = { shapes: [[45, 52, 57, 61, 64]] };
  for (let times = 0; times < PRACTISED_TIMES; times++) {
    const live = createLiveChords(sampleRate, [{ chord, fromSample: 0, toSample: Infinity }]);
    live.attack(from);
    live.push(sound);
  }
}
