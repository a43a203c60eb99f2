import { createTrees } from '../decision/trees.ts';
import { levelBetween, ms, type Prepared } from '../signal/prepared.ts';
import { PLACEMENT_TREES } from './placementWeights.ts';

/** A note is moved by less than half of this, s. */
export const PLACEMENT_SPAN_SEC = 0.05;

/** What lies around an attack is looked at every 3 ms, 36 ms to either side, in windows as long. */
const STEP_MS = 3;
const REACH = 12;
const STEPS = Array.from({ length: 2 * REACH + 1 }, (_, i) => (i - REACH) * STEP_MS);
/** The attack's peak lies from 9 ms before the candidate to 30 ms after it: of both profiles levels count from there. */
const PEAK_FROM = REACH - 3;
const PEAK_TO = REACH + 10;
/** How far under its peak, dB: the steps back to where the attack was last so low. */
const UNDER_DB = [3, 6, 10, 14, 20] as const;

export const PLACEMENT_FEATURES: readonly string[] = [
  ...STEPS.map((at) => `edges${at}`),
  ...STEPS.map((at) => `energy${at}`),
  ...UNDER_DB.flatMap((db) => [`edgesBack${db}`, `energyBack${db}`]),
  'midi',
];

/** Levels around `at`, dB / 10 under the attack's peak, and the steps back from it. */
function rise(sum: Float64Array, at: number): { levels: number[]; back: number[] } {
  const half = STEP_MS / 2;
  const db = STEPS.map((step) => levelBetween(sum, at + ms(step - half), at + ms(step + half)));
  let top = PEAK_FROM;
  for (let i = PEAK_FROM; i <= PEAK_TO; i++) if (db[i]! > db[top]!) top = i;
  const levels = db.map((v) => (v - db[top]!) / 10);
  const back = UNDER_DB.map((under) => {
    let i = top;
    while (i > 0 && levels[i]! > -under / 10) i--;
    return i - REACH;
  });
  return { levels, back };
}

/**
 * What the instant of a note's attack is read from, in the order of {@link PLACEMENT_FEATURES}.
 * @param clear the take in the bands in which the player outweighs the leftovers
 * @param at where the note was found, samples at the working rate
 * @param midi its pitch
 */
export function placementFeatures(clear: Prepared, at: number, midi: number): Float64Array {
  const edges = rise(clear.edges, at);
  const energy = rise(clear.energy, at);
  const back = edges.back.flatMap((steps, i) => [steps, energy.back[i]!]);
  return Float64Array.of(...edges.levels, ...energy.levels, ...back, midi / 12);
}

const answer = createTrees(PLACEMENT_TREES, PLACEMENT_FEATURES);

/** A note is looked at from where it was found and around there, ms; the answers are averaged. */
export const LOOKS_MS = [-9, -6, -3, 0, 3, 6, 9] as const;

/**
 * The instant of a note's attack over a backing. Its first rise, up to 20 dB under the peak, drowns in what is left
 * of the backing, and a low string's begins where the bright part of the signal has not yet begun: so the instant is
 * guessed from the shape of what stands out. The trees answer with a share of {@link PLACEMENT_SPAN_SEC}.
 * @returns samples at the working rate, within 25 ms of `at`
 */
export function placeOnset(clear: Prepared, at: number, midi: number): number {
  const by = LOOKS_MS.map((look) => {
    const share = answer(placementFeatures(clear, at + ms(look), midi)) - 0.5;
    return look + 1000 * PLACEMENT_SPAN_SEC * share;
  });
  return Math.max(0, at + ms(by.reduce((sum, one) => sum + one, 0) / by.length));
}
