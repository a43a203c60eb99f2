/**
 * How much one note teaches each of its parts, as a multiple of the rate: the ways in which a student may
 * learn. None is the choice's own idea of gain; the panel in tests/bench/practice holds all of them, so that
 * no one idea of learning decides the outcome. Sources marked (m) are cited from memory, the others were
 * looked up (abstract or summary).
 */
export interface NotePlayed {
  /** True chance, today, that the note comes off in this channel, 0…1. */
  readonly chance: number;
  readonly right: boolean;
  /** Notes of 1 that came off in this take. */
  readonly cameOff: number;
  /** True chance that this take ends "there", 0…1. */
  readonly thereChance: number;
}

/** Standard normal density, and the inverse of its distribution function by bisection, to 1e-9. */
const density = (z: number): number => Math.exp(-z * z * 0.5) / Math.sqrt(2 * Math.PI);
const cumulative = (z: number): number => {
  // Abramowitz & Stegun 26.2.17, error under 7.5e-8 (m).
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const tail =
    density(z) *
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return z >= 0 ? 1 - tail : tail;
};
function probit(p: number): number {
  let [low, high] = [-6, 6];
  for (let i = 0; i < 30; i++) {
    const middle = (low + high) / 2;
    if (cumulative(middle) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
/** z·φ(z) over a table of chances 0, 0.01, …, 1: the notes of a panel are many. */
const WILSON = Array.from({ length: 101 }, (_, i) => {
  const z = Math.max(0, probit(Math.min(0.999, i / 100)));
  return (z * density(z)) / density(1);
});

export const CREDITS = {
  /** Every note played teaches the same, whatever became of it, and however many a test has. */
  exposure: () => 1,
  /** Only what comes off teaches. */
  success: ({ right }) => Number(right),
  /** What comes off teaches four times as much as what fails: Pavlik, Cen & Koedinger 2009, performance factors. */
  'mostly success': ({ right }) => (right ? 1 : 0.25),
  /** The more surprising the success would have been, the more is learnt (delta rule, Rescorla & Wagner 1972 (m)). */
  error: ({ chance }) => 4 * (1 - chance),
  /** Most where success and failure are equally likely: the logistic's slope, 4p(1 − p) ("desirable difficulty", Bjork 1994 (m)). */
  'even odds': ({ chance }) => 8 * chance * (1 - chance),
  /** z·φ(z): the speed of gradient descent in Wilson et al. 2019, greatest where 84 notes of 100 come off. */
  '84 of 100 notes': ({ chance }) => 1.5 * WILSON[Math.round(100 * chance)]!,
  /** Who gets lost learns little: Guadagnoli & Lee 2004, challenge point, the side of too much (half the gain at 3 of 4 notes). */
  'lost above a challenge': ({ right, cameOff }) =>
    (right ? 1 : 0.25) / (1 + Math.exp(-(cameOff - 0.75) / 0.07)),
  /** Most where four tests in five end "there": the choice's own aim taken for the truth; its best case. */
  'four tests in five': ({ thereChance }) => 1.2 * Math.exp(-0.5 * ((thereChance - 0.8) / 0.25) ** 2),
} as const satisfies Record<string, (note: NotePlayed) => number>;

export type Credit = keyof typeof CREDITS;
