import { playable } from '../../../src/dsp/note/range.ts';
import { addTallies, matchNotes, tally } from '../../support/fixtures/note-metrics.ts';
import type { Take, TakeRecipe } from '../../../audio-fixtures/index.ts';
import type { Note, Tally } from '../../support/fixtures/note-metrics.ts';
import { STANDARD } from './listener.ts';
import type { Answer, BenchListener } from './listener.ts';

/** What one listener made of one take. */
export interface Result {
  readonly id: string;
  readonly family: string;
  readonly tally: Tally;
  readonly verdict: string | null;
  readonly audioSec: number;
  readonly seconds: number;
  /** Confidence of each heard note, and whether it was right; empty where none is given. */
  readonly confidences: readonly { readonly said: number; readonly right: boolean }[];
  readonly wrong: readonly string[];
  /** Recorded noises laid in, and how many of them were taken for a note. */
  readonly noises: number;
  readonly fooled: number;
  /** Notes heard that the instrument, tuned as it is, does not have. */
  readonly outside: number;
}

function describeErrors(truth: readonly Note[], heard: Answer['notes']): string[] {
  const onsets = matchNotes(truth, heard, 0.05, Infinity);
  const taken = new Set(onsets);
  const at = (note: Note): string => `${note.onsetSec.toFixed(3)} s ${note.midi.toFixed(1)}`;
  const missed = truth.flatMap((note, t) => {
    const h = onsets[t]!;
    if (h < 0) return [`missed ${at(note)}`];
    const late = Math.round(1000 * (heard[h]!.onsetSec - note.onsetSec));
    if (Math.abs(heard[h]!.midi - note.midi) > 0.5)
      return [`heard ${heard[h]!.midi.toFixed(1)} for ${at(note)}`];
    return Math.abs(late) > 25 ? [`${late} ms off ${at(note)}`] : [];
  });
  return [...missed, ...heard.filter((_, h) => !taken.has(h)).map((note) => `extra ${at(note)}`)];
}

/** A noise is heard as a note within so long of it, s: as far as onsets are matched. */
const NEAR_SEC = 0.05;

/** How many of a take's noises have a false note at them. */
function fooledBy({ noises }: Take, truth: readonly Note[], heard: readonly Note[]): number {
  const matched = new Set(matchNotes(truth, heard, 0.05, Infinity));
  const falseSec = heard.filter((_, h) => !matched.has(h)).map(({ onsetSec }) => onsetSec);
  return noises.filter(({ fromSec, toSec }) =>
    falseSec.some((t) => t > fromSec - NEAR_SEC && t < toSec + NEAR_SEC),
  ).length;
}

export function score(take: Take, answer: Answer, findsTuning: boolean): Result {
  const shift = findsTuning ? 0 : take.tuningCents / 100;
  const truth = take.truth.map(({ onsetSec, midi }) => ({ onsetSec, midi: midi + shift }));
  const { lowest, highest } = playable({ instrument: take.instrument, tuning: STANDARD[take.instrument] });
  const right = new Set(matchNotes(truth, answer.notes, 0.05));
  return {
    id: take.id,
    family: take.family,
    tally: tally(truth, answer.notes),
    verdict: answer.verdict ?? null,
    audioSec: take.signal.length / take.sampleRate,
    seconds: answer.seconds,
    confidences: answer.notes.flatMap(({ confidence }, h) =>
      confidence === undefined ? [] : [{ said: confidence, right: right.has(h) }],
    ),
    wrong: describeErrors(truth, answer.notes),
    noises: take.noises.length,
    fooled: fooledBy(take, truth, answer.notes),
    outside: answer.notes.filter(({ midi }) => midi < lowest - 0.5 || midi > highest + 0.5).length,
  };
}

/** Every listener over every take, a take at a time. */
export async function runAll(
  recipes: readonly TakeRecipe[],
  listeners: readonly BenchListener[],
  progress: (done: number) => void,
): Promise<Map<string, Result[]>> {
  const results = new Map<string, Result[]>(listeners.map(({ name }) => [name, []]));
  for (const [i, recipe] of recipes.entries()) {
    const take = recipe.make();
    for (const listener of listeners)
      results.get(listener.name)!.push(score(take, await listener.hear(take), listener.findsTuning));
    progress(i + 1);
  }
  return results;
}

export interface Sums {
  readonly tally: Tally;
  readonly takes: number;
  readonly realTimeFactor: number;
}
export function sums(results: readonly Result[]): Sums {
  const total = (of: (result: Result) => number): number => results.reduce((sum, r) => sum + of(r), 0);
  return {
    tally: addTallies(results.map((r) => r.tally)),
    takes: results.length,
    realTimeFactor:
      total((r) => r.audioSec) /
      Math.max(
        1e-9,
        total((r) => r.seconds),
      ),
  };
}
