import { parseChord, functionOf, pitchClass, type ChordTest } from '../../../music/chords/index.ts';
import type { Cue, CueSheet, Key, PracticeTest } from '../../../music/score.ts';
import { midi, sec, ticks } from '../../../music/units.ts';
import { barTicks } from '../../../music/metre.ts';
import { backingCues } from '../../backing/backing.ts';
import { askedOf } from '../../material/chords/index.ts';
import { alone, clickCues, takeOver, type Passage } from '../../sheets/index.ts';
import { barsOf, chordsAtSec, isTimed, slotSec } from './slots.ts';

interface ChordPassage extends Passage {
  readonly test: ChordTest;
}

const passageOf = (test: ChordTest): ChordPassage => ({
  test,
  phrase: { metre: test.metre, bars: barsOf(test), notes: [] },
  tempoBpm: test.tempoBpm,
  swing: 0.5,
});

/** Where a name appears a soft click says so: eyes may be on the hand. */
const NAME_VELOCITY = 0.5;

const nameClicks = ({ test }: ChordPassage, fromSec: number): readonly Cue[] =>
  chordsAtSec(test).map((at) => ({
    type: 'drum',
    piece: 'clickAccent',
    atSec: sec(fromSec + at),
    velocity: NAME_VELOCITY,
  }));

/** The key of most of its chords; of several the one that begins with them. */
function keyOf(test: ChordTest): Key {
  const chords = test.chords.map(({ symbol }) => parseChord(symbol)!);
  let best: { key: Key; score: number } | null = null;
  for (const { root } of chords)
    for (const minor of [false, true]) {
      const own = chords.filter((chord) => functionOf(chord, root, minor) !== 'foreign').length;
      const score = own + (pitchClass(root) === pitchClass(chords[0]!.root) ? 0.5 : 0);
      if (!best || score > best.score)
        best = { key: { tonic: root, scale: minor ? 'minor' : 'major' }, score };
    }
  return best!.key;
}

/** Drums and bass of the style over its chords: the chords themselves are the player's. */
function bandCues({ test, phrase }: ChordPassage, fromSec: number): readonly Cue[] {
  const end = phrase.bars * barTicks(test.metre);
  const chords = test.chords.map(({ symbol, startTicks }, i) => {
    const from = startTicks!;
    const to = test.chords[i + 1]?.startTicks ?? end;
    return { symbol, startTicks: ticks(from), durationTicks: ticks(to - from) };
  });
  const played: PracticeTest = {
    version: 1,
    kind: 'melody',
    instrument: 'guitar',
    tuning: test.tuning,
    level: null,
    seed: test.seed ?? 0,
    tempoBpm: test.tempoBpm,
    key: keyOf(test),
    swing: 0.5,
    phrase,
    style: test.style!,
    question: null,
    backing: { arranger: 2, chords },
    procedure: { hearings: 1, practiceSec: sec(0) },
  };
  return backingCues(played, fromSec).filter((cue) => cue.type !== 'note' || cue.voice === 'bass');
}

/** A count, then the click, the band, or a tick at each name, under the player. */
export function chordTakeSheet(test: ChordTest, voice: 'spoken' | 'click'): CueSheet {
  const part = !isTimed(test) ? nameClicks : test.style ? bandCues : clickCues;
  return takeOver(passageOf(test), part, { voice });
}

/** Between the strings of a stroke, s. */
const RAKE_SEC = 0.015;
const VELOCITY = 0.75;
const LONGEST_SEC = 3;
/** A chord that may be voiced in any way is sounded closely from C3 on. */
const ANY_FROM = 48;

function strokes({ test }: ChordPassage, fromSec: number): readonly Cue[] {
  const at = chordsAtSec(test);
  return test.chords.flatMap((chord, i): Cue[] => {
    const asked = askedOf(chord, test.tuning);
    const notes = 'shapes' in asked ? asked.shapes[0]! : voiced(asked.classes, asked.bass ?? null);
    const lengthSec = Math.min(LONGEST_SEC, (at[i + 1] ?? at[i]! + slotSec(test)) - at[i]! - 0.1);
    return notes.map((note, string) => ({
      type: 'note',
      voice: 'guitar',
      role: 'phrase',
      midi: midi(note),
      atSec: sec(fromSec + at[i]! + string * RAKE_SEC),
      durationSec: sec(lengthSec),
      velocity: VELOCITY,
    }));
  });
}

/** One note a class over the bass, closely. */
function voiced(classes: readonly number[], bass: number | null): number[] {
  const above = (from: number, pc: number): number => from + ((((pc - from) % 12) + 12) % 12);
  const lowest = above(ANY_FROM - 12, bass ?? classes[0]!);
  return [lowest, ...classes.filter((pc) => pc !== lowest % 12).map((pc) => above(ANY_FROM, pc))].sort(
    (a, b) => a - b,
  );
}

/** The chords as they were asked for, to hear beside the take. */
export const chordTargetSheet = (test: ChordTest): CueSheet => alone(passageOf(test), strokes);
