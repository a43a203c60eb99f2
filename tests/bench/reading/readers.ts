import type { PlannedNote } from '../../../audio-fixtures/index.ts';
import { makeRandom } from '../../../audio-fixtures/random.ts';
import { barTicks } from '../../../src/music/metre.ts';
import { performedSec } from '../../../src/music/time.ts';
import type { ReadingPage } from '../../../src/tests-engine/index.ts';

/** What a simulated reader does, and with a click or without. */
export type ReaderKind = 'clean' | 'hesitates' | 'goesBack' | 'leavesOut' | 'drifts' | 'falseStart' | 'stops';
export const READERS: readonly ReaderKind[] = [
  'clean',
  'hesitates',
  'goesBack',
  'leavesOut',
  'drifts',
  'falseStart',
  'stops',
];

export interface Performance {
  readonly kind: ReaderKind;
  readonly click: boolean;
  readonly notes: readonly PlannedNote[];
  /** When beat 1 of bar 1 is due where there is a click; the take's first note without. */
  readonly zeroSec: number;
  /** The bar (from 1) at which it happened: gone back to, left out, stopped before; null for none. */
  readonly bar: number | null;
  /** Tempo at the end against the beginning, percent. */
  readonly driftPercent: number;
  /** Played against written tempo. */
  readonly ownTempo: number;
}

/** Deviation of onsets about the beat, s: hands as in the development set. */
const JITTER_SEC = [0.004, 0.012] as const;

/** Plays a page as a reader of this kind would; the same seed plays the same. */
export function readPage(page: ReadingPage, kind: ReaderKind, click: boolean, seed: number): Performance {
  const random = makeRandom(seed);
  const { notes, metre, bars } = page.phrase;
  const beat = 60 / page.tempoBpm;
  const bar = barTicks(metre);
  const barOf = (i: number): number => Math.floor(notes[i]!.startTicks / bar);
  const due = notes.map(
    (note) => performedSec(note.startTicks, { tempoBpm: page.tempoBpm, swing: 0.5 }) as number,
  );
  const length = notes.map((note) => (note.durationTicks / 480) * beat);
  const ownTempo = click ? 1 : random.between(0.8, 1.15);
  const jitter = random.between(...JITTER_SEC);
  const lead = random.between(1, 2);
  const driftPercent = kind === 'drifts' ? random.between(-15, 15) : 0;
  const total = due.at(-1)!;
  /** Seconds written to seconds played: the tempo changes evenly over the page. */
  const played = (t: number): number => {
    const k = driftPercent / 100 / total;
    return (k === 0 ? t : Math.log1p(k * t) / k) / ownTempo;
  };
  // A bar inside, that begins with a note and has three or more.
  const inside = Array.from({ length: bars - 2 }, (_, b) => b + 1).filter(
    (b) => notes.filter((_, i) => barOf(i) === b).length >= 2,
  );
  const at = inside.length > 0 ? random.pick(inside) : 1;
  const first = notes.findIndex((_, i) => barOf(i) >= at);
  const next = notes.findIndex((_, i) => barOf(i) > at);

  const sequence: { i: number; shiftSec: number }[] = [];
  const say = (from: number, to: number, shiftSec = 0): void => {
    for (let i = from; i < to; i++) sequence.push({ i, shiftSec });
  };
  let placed: number | null = null;
  switch (kind) {
    case 'clean':
    case 'drifts':
      say(0, notes.length);
      break;
    case 'falseStart':
      say(0, notes.length);
      break;
    case 'hesitates': {
      const wait = random.between(0.3, 0.7) * beat;
      say(0, first);
      // With the click what was lost is caught up with in the next bar; without it the pause stays.
      say(first, click ? next : notes.length, wait);
      if (click) say(next, notes.length);
      break;
    }
    case 'stops':
      say(0, first);
      say(first, notes.length, 2 * beat);
      placed = at + 1;
      break;
    case 'goesBack': {
      // Some notes into the bar (or all of it), then its beginning again.
      const until = Math.min(next, first + random.whole(2, Math.max(2, next - first)));
      say(0, until);
      const again =
        due[until - 1]! - due[first]! + random.between(0.6, 1.5) * beat + length[until - 1]! * 0.5;
      say(first, notes.length, again);
      placed = at + 1;
      break;
    }
    case 'leavesOut':
      say(0, first);
      // With the click the bar passes in silence; without it the next follows at once.
      say(next, notes.length, click ? 0 : due[first]! - due[next]!);
      placed = at + 1;
      break;
  }
  let zero = lead;
  const out: PlannedNote[] = [];
  const strike = (onsetSec: number, durationSec: number, i: number): void => {
    out.push({ onsetSec, durationSec, midi: notes[i]!.midi, levelDb: 1.2 * random.normal() });
  };
  if (kind === 'falseStart' && !click) {
    const few = Math.max(
      1,
      Math.min(
        random.whole(2, 4),
        notes.findIndex((_, i) => barOf(i) >= 1),
      ),
    );
    for (let i = 0; i < few; i++) strike(lead + due[i]! / ownTempo, length[i]! / ownTempo, i);
    zero += (due[few]! + random.between(2.5, 5) * beat) / ownTempo;
  }
  if (kind === 'falseStart' && click) {
    // Struck in the count: a bar early, two notes.
    const barSec = due[notes.findIndex((_, i) => barOf(i) >= 1)] ?? 4 * beat;
    zero += barSec;
    for (let i = 0; i < 2; i++)
      if (due[i]! < barSec - beat) strike(zero - barSec + due[i]!, length[i]! * 0.8, i);
  }
  const from = out.length;
  for (const { i, shiftSec } of sequence)
    strike(zero + played(due[i]! + shiftSec) + jitter * random.normal(), length[i]! / ownTempo, i);
  // A note sounds until the next is struck at the latest.
  const joined = out.map((note, k) => {
    const following = out[k + 1];
    const longest = following ? following.onsetSec - note.onsetSec : Infinity;
    const whole = k >= from || k + 1 < from ? Math.min(note.durationSec, longest) : note.durationSec;
    return { ...note, durationSec: Math.max(0.05, longest - whole < 0.03 ? longest : whole) };
  });
  return { kind, click, notes: joined, zeroSec: zero, bar: placed, driftPercent, ownTempo };
}
