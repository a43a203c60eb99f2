import type { Random } from '../../audio-fixtures/random.ts';
import type { Cue, PracticeTest, WrittenNote } from '../../src/music/score.ts';
import { barTicks } from '../../src/music/metre.ts';
import { performedSec } from '../../src/music/time.ts';
import { ticks, ticksToSec } from '../../src/music/units.ts';
import { backingCues, makeTest, type BarState, type PieceTarget } from '../../src/tests-engine/index.ts';

/** A piece of our own material: sections of a ladder's phrases in one tempo, some of which come again. */
export interface MadePiece {
  readonly target: readonly PieceTarget[];
  readonly notes: readonly WrittenNote[];
  /** Where bars begin, and the last ends, s from bar 1. */
  readonly barSecs: readonly number[];
  readonly tempoBpm: number;
  readonly beatSec: number;
  /** Its backing, first bar line at `fromSec`. */
  cues(fromSec: number): readonly Cue[];
}

/** Which phrase each section is: two that come again, as songs do. */
const FORM = [0, 1, 0, 2, 1, 0, 3, 2, 4, 1, 5, 0, 6, 2, 7, 1];

export function makePiece(
  seed: number,
  { seconds, level = 6, tempoBpm = 96, style = 'rock' as const }: PieceOrder,
): MadePiece {
  const sections: PracticeTest[] = [];
  const barSec = ticksToSec(barTicks({ beats: 4, beatUnit: 4, grouping: [2, 2] }), tempoBpm);
  let bars = 0;
  for (let k = 0; bars * barSec < seconds; k++) {
    const phrase = makeTest({
      kind: 'melody',
      level,
      seed: seed * 100 + FORM[k % FORM.length]! + 20 * Math.floor(k / FORM.length),
      instrument: 'guitar',
      style,
      tempoBpm,
    });
    if (phrase.phrase.metre.beats !== 4 || phrase.phrase.metre.beatUnit !== 4) continue;
    sections.push(phrase);
    bars += phrase.phrase.bars;
  }
  let atBar = 0;
  const target: PieceTarget[] = [];
  const notes: WrittenNote[] = [];
  const parts: { test: PracticeTest; fromBar: number }[] = [];
  for (const test of sections) {
    for (const note of test.phrase.notes) {
      target.push({
        onsetSec: atBar * barSec + performedSec(note.startTicks, { ...test, swing: 0.5 }),
        midi: note.midi,
        bar: atBar + Math.floor(note.startTicks / 1920),
      });
      notes.push({ ...note, startTicks: ticks(note.startTicks + atBar * 1920) });
    }
    parts.push({ test: { ...test, swing: 0.5 }, fromBar: atBar });
    atBar += test.phrase.bars;
  }
  return {
    target,
    notes,
    barSecs: Array.from({ length: atBar + 1 }, (_, k) => k * barSec),
    tempoBpm,
    beatSec: 60 / tempoBpm,
    cues: (fromSec) => parts.flatMap(({ test, fromBar }) => backingCues(test, fromSec + fromBar * barSec)),
  };
}
export interface PieceOrder {
  readonly seconds: number;
  readonly level?: number;
  readonly tempoBpm?: number;
  readonly style?: 'rock' | 'funk' | 'ballad' | 'shuffle' | 'latin' | 'reggae';
}

/** A note as it is to be played, and the state that each bar must be given. */
export interface PlantedPiece {
  readonly played: readonly {
    readonly onsetSec: number;
    readonly midi: number;
    readonly lengthSec: number;
  }[];
  /** Allowed states of each bar. */
  readonly truth: readonly (readonly BarState[])[];
  readonly wrongBars: readonly number[];
  /** Bar after which the player went back, and to which. */
  readonly back: { readonly after: number; readonly to: number };
  readonly stop: { readonly bar: number; readonly again: number };
}

/** What may be said of a bar that was played as written: nothing. */
const FINE: readonly BarState[] = ['right', 'rest'];

/**
 * Four wrong bars (half of the notes moved by one to three semitones), one jump two bars back (then two bars are left
 * out, to be with the backing again) and one memory stop of two and a half bars; else as written, with a spread of 12 ms.
 */
export function plantSlips(piece: MadePiece, random: Random): PlantedPiece {
  const bars = piece.barSecs.length - 1;
  const barSec = piece.barSecs[1]!;
  const notesIn = (bar: number) => piece.target.filter((t) => t.bar === bar);
  const truth: (readonly BarState[])[] = Array.from({ length: bars }, (_, b) =>
    notesIn(b).length === 0 ? ['rest'] : FINE,
  );
  const rich = (bar: number): boolean => notesIn(bar).length >= 3;
  const taken = new Set<number>();
  const draw = (from: number, to: number, around: number, fits: (bar: number) => boolean): number => {
    for (;;) {
      const bar = random.whole(from, to);
      const span = Array.from({ length: 2 * around + 1 }, (_, k) => bar - around + k);
      if (span.some((b) => taken.has(b)) || !fits(bar)) continue;
      span.forEach((b) => taken.add(b));
      return bar;
    }
  };
  // Bars that sound as those two before them cannot be told from them.
  const differs = (a: number, b: number): boolean => {
    const of = (bar: number) =>
      notesIn(bar).map((t) => `${Math.round(48 * (t.onsetSec - piece.barSecs[bar]!))}:${t.midi}`);
    const there = new Set(of(b));
    return of(a).filter((one) => there.has(one)).length <= of(a).length / 2;
  };
  const after = draw(
    6,
    bars - 10,
    4,
    (b) => [b - 1, b, b + 1, b + 2].every(rich) && differs(b - 1, b + 1) && differs(b, b + 2),
  );
  const stopBar = draw(6, bars - 10, 4, (b) => [b, b + 1, b + 2, b + 3].every(rich));
  const wrongBars = Array.from({ length: 4 }, () => draw(2, bars - 3, 1, rich)).sort((a, b) => a - b);

  const played: { onsetSec: number; midi: number; lengthSec: number }[] = [];
  piece.target.forEach((note, i) => {
    const next = piece.target[i + 1]?.onsetSec ?? note.onsetSec + piece.beatSec;
    const lengthSec = Math.min(1.5, Math.max(0.1, 0.9 * (next - note.onsetSec)));
    const put = (bySec: number, by = 0): void => {
      const onsetSec = note.onsetSec + bySec + 0.012 * random.normal();
      played.push({ onsetSec, midi: note.midi + by, lengthSec });
    };
    const inBar = note.onsetSec - piece.barSecs[note.bar]!;
    if (note.bar === after + 1 || note.bar === after + 2) return;
    if (note.bar === stopBar && inBar >= 0.4 * barSec) return;
    if (note.bar === stopBar + 1 || note.bar === stopBar + 2) return;
    if (wrongBars.includes(note.bar)) {
      // Every second note, the first included: at least half of them.
      const nth = notesIn(note.bar).indexOf(note);
      put(0, nth % 2 === 0 ? random.pick([-3, -2, -1, 1, 2, 3]) : 0);
      return;
    }
    put(0);
    if (note.bar === after - 1 || note.bar === after) put(2 * barSec);
  });
  for (const bar of wrongBars) truth[bar] = ['wrong'];
  truth[after + 1] = truth[after + 2] = ['elsewhere'];
  truth[stopBar] = ['right', 'slip', 'wrong', 'silent'];
  truth[stopBar + 1] = truth[stopBar + 2] = ['silent'];
  return {
    played: played.sort((a, b) => a.onsetSec - b.onsetSec),
    truth,
    wrongBars,
    back: { after, to: after - 1 },
    stop: { bar: stopBar, again: stopBar + 3 },
  };
}
