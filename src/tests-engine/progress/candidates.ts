import type { PracticeTest } from '../../music/score.ts';
import type { ChoiceRequest } from './types.ts';
import type { Material } from './gain.ts';
import type { Knowledge } from './knowledge.ts';
import { chancesOf, chanceThere, notesOf, rawChance, setsOfTest } from './predict.ts';

export interface Candidate extends Material {
  readonly test: PracticeTest;
  /** Chance that it ends "there", 0…1. */
  readonly chance: number;
}

/**
 * Candidates a level. A part of which one test in five is rich is missed once in 1,300 choices; 80 gained
 * simulated students no more than 32 and take 2.5 times as long.
 */
const CANDIDATES = 32;
/** Levels over or under the present one that may be reached at once: one bad day throws nobody back to the start. */
const FARTHEST_STEP = 2;

/** A 32-bit seed from the place in the record, the level and the candidate (Wellons' lowbias32 mixer). */
function seedFor(order: number, level: number, index: number): number {
  let x = ((order % 2 ** 32) ^ Math.imul(level * 64 + index + 1, 0x9e3779b9)) >>> 0;
  x = Math.imul(x ^ (x >>> 16), 0x7feb352d);
  x = Math.imul(x ^ (x >>> 15), 0x846ca68b);
  return (x ^ (x >>> 16)) >>> 0;
}

function ofLevel(known: Knowledge, request: Omit<ChoiceRequest, 'record'>, level: number): Candidate[] {
  const { kind, there, make } = request;
  return Array.from({ length: CANDIDATES }, (_, index) => {
    const test = make({ kind, level, seed: seedFor(known.order, level, index) });
    const sets = setsOfTest(test);
    const notes = notesOf(known.estimate, sets);
    const chance = chanceThere(rawChance(notes, there), known.calibration[kind]);
    return { test, level, sets, chances: chancesOf(notes), chance };
  });
}

/**
 * The tests to choose from: those of the present level; upwards as long as the level before has one with a
 * chance of at least `lowest`; and downwards, where fewer than half of the present level's reach `aim`, until
 * a level has one of at least `lowest`. `present` alone where `fixed`.
 */
export function candidates(
  known: Knowledge,
  request: Omit<ChoiceRequest, 'record'>,
  { present, fixed, lowest, aim }: { present: number; fixed: boolean; lowest: number; aim: number },
): Candidate[] {
  const here = ofLevel(known, request, present);
  if (fixed) return here;
  const all = [...here];
  const hopeful = (some: readonly Candidate[]) => some.some(({ chance }) => chance >= lowest);
  const highest = Math.min(request.highestLevel ?? 10, present + FARTHEST_STEP);
  let newest = here;
  for (let level = present + 1; level <= highest && hopeful(newest); level++)
    all.push(...(newest = ofLevel(known, request, level)));
  if (here.filter(({ chance }) => chance >= aim).length < here.length / 2)
    for (let level = present - 1; level >= Math.max(1, present - FARTHEST_STEP); level--) {
      all.push(...(newest = ofLevel(known, request, level)));
      if (hopeful(newest)) break;
    }
  return all;
}
