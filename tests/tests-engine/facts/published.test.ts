import { describe, expect, it } from 'vitest';
import type { Chart } from '../../../src/music/chart.ts';
import { bpm, ticks } from '../../../src/music/units.ts';
import { improvisedFacts, METRES } from '../../../src/tests-engine/index.ts';
import { played, type Meant } from './lines.ts';

/** One chord under `bars` bars of 4/4. */
const chart = (tonic: string, bars: number, more: Partial<Chart> = {}): Chart => ({
  ...{ key: { tonic, scale: 'major' }, metre: METRES['4/4'], bars, style: 'rock', swing: 0.5 },
  ...{ tempoBpm: bpm(100) },
  chords: [{ startTicks: ticks(0), durationTicks: ticks(1920 * bars), symbol: tonic }],
  ...more,
});
/** Crotchets of each note, one after another. */
const line = (notes: readonly (readonly [midi: number, crotchets: number])[]): Meant[] => {
  let at = 0;
  return notes.map(([midi, crotchets]) => {
    const meant = [at, 480 * crotchets, midi] as const;
    at += 480 * crotchets;
    return meant;
  });
};
const factsOf = (over: Chart, meant: readonly Meant[]) => improvisedFacts(played(over, meant));

/**
 * Tunes in the public domain as textbooks describe them. What is said of them is W. Wieland's ("Melodic Structure", music theory
 * pages of Northern State University, www3.northern.edu/wieland/theory/melody/Struktur.htm); their notes are from memory.
 */
describe('what is told of published tunes', () => {
  // Beethoven's ninth, "Ode to Joy": antecedent bars 1–4, ending on the second degree; consequent 5–8 parallel, ending on the first.
  const half: readonly (readonly [number, number])[] = [
    ...([66, 66, 67, 69, 69, 67, 66, 64, 62, 62, 64, 66] as const).map((midi) => [midi, 1] as const),
  ];
  const period = line([...half, [66, 1.5], [64, 0.5], [64, 2], ...half, [64, 1.5], [62, 0.5], [62, 2]]);

  it('hears a parallel period: bars 1 to 3 come again as bars 5 to 7, and it ends on the root', () => {
    const { ideas, ending, line: shape } = factsOf(chart('D', 8), period);
    const [first] = [...ideas].sort((a, b) => b.notes - a.notes);
    expect(first).toMatchObject({ how: 'repeated', at: { bar: 1, beat: 1 }, againAt: { bar: 5, beat: 1 } });
    expect(first!.notes).toBe(half.length);
    expect(ending.on).toBe('root');
    // All of it by steps and repeated notes.
    expect(shape.leaps.count).toBe(0);
    expect(shape.range).toEqual([62, 69]);
  });
  it('hears a diatonic sequence: the first syllable of the Gloria, each bar a step of the scale lower', () => {
    // Five notes a bar: of the heights as they are sung, with a plain rhythm.
    const bar = (midis: readonly number[]) =>
      midis.map((midi, i) => [midi, [1.5, 0.5, 0.5, 0.5, 1][i]!] as const);
    const sequence = line([
      ...bar([72, 74, 72, 70, 69]),
      ...bar([70, 72, 70, 69, 67]),
      ...bar([69, 70, 69, 67, 65]),
      [67, 4],
    ]);
    const { ideas } = factsOf(chart('F', 4), sequence);
    expect(ideas.filter(({ how }) => how === 'moved')).toMatchObject([
      { at: { bar: 1 }, againAt: { bar: 2 }, notes: 5, steps: -1 },
      // Runs on into the next bar's first note.
      { againAt: { bar: 3 }, notes: 6 },
    ]);
  });
  it('hears a modified sequence: the minuet in G of the Notebook, its run a fourth higher after another leap', () => {
    const bar = (midis: readonly number[]) =>
      midis.map((midi, i) => [midi, midis.length === 5 && i > 0 ? 0.5 : 1] as const);
    const minuet = line([
      ...bar([74, 67, 69, 71, 72]),
      ...bar([74, 67, 67]),
      ...bar([76, 72, 74, 76, 78]),
      ...bar([79, 67, 67]),
    ]);
    const over = chart('G', 4, {
      metre: METRES['3/4'],
      chords: [{ startTicks: ticks(0), durationTicks: ticks(1440 * 4), symbol: 'G' }],
    });
    const { ideas, rhythm } = factsOf(over, minuet);
    // The composer altered its first interval and its last; what lies between moves by three steps.
    expect(ideas.filter(({ how }) => how === 'moved')).toMatchObject([
      { at: { bar: 1, beat: 2 }, againAt: { bar: 3, beat: 2 }, notes: 5, steps: 3 },
    ]);
    // Two rhythms by turns.
    expect(rhythm.figures).toBe(2);
  });
});

/**
 * Long to short of a pair of quavers, as the documentation of AMADS (amads.time.swing, after F. Benadon, "Slicing the beat",
 * Ethnomusicology 50, 2006) works it out: beats at 0, 1, 2, 3 s; off-beats at 0.5 s give 1, at 1.75 s give 3; a beat with none, or with more
 * than one, is left out.
 */
describe('swing as it is worked out in print', () => {
  const slow = chart('C', 4, { tempoBpm: bpm(60) });
  const at = (seconds: readonly number[]): Meant[] =>
    seconds.map((sec, i) => [480 * sec, 480 * ((seconds[i + 1] ?? seconds.at(-1)! + 1) - sec), 60 + (i % 5)]);
  it.each([
    ['even', 0.5, 1],
    ['a triplet', 2 / 3, 2],
    ['dotted', 0.75, 3],
  ])('%s: an off-beat at %d of the beat is a ratio of %d', (_, off, ratio) => {
    const { timing } = factsOf(slow, at(Array.from({ length: 12 }, (_, beat) => [beat, beat + off]).flat()));
    expect(timing.swingRatio).toBeCloseTo(ratio, 5);
    expect(timing.swingPairs).toBe(12);
  });
  it('leaves out a beat with no off-beat and one with several', () => {
    const { timing } = factsOf(slow, at([0, 0.5, 1, 2, 2.5, 2.75, 3, 3.5, 4]));
    expect(timing.swingPairs).toBe(2);
    expect(timing.swingRatio).toBeCloseTo(1, 5);
  });
});

/**
 * Syncopations as Longuet-Higgins and Lee count them (1984, figure 9, as H. Honing's public LHL84.lisp lists them):
 * durations in quavers, and the strengths of 1 and more that are told.
 */
describe('syncopation as it is counted in print', () => {
  it.each([
    ['(2 1 3 2)', [2, 1, 3, 2], 1],
    ['(1 2 1 1 3)', [1, 2, 1, 1, 3], 2],
    ['(1 2 2 2 1)', [1, 2, 2, 2, 1], 3],
    ['(2 2 2 2)', [2, 2, 2, 2], 0],
  ])('%s has %j: %d a bar', (_, quavers, perBar) => {
    const bars = 4;
    const notes = Array.from({ length: bars }, () => quavers).flat();
    const { rhythm } = factsOf(chart('C', bars), line(notes.map((n, i) => [60 + (i % 3), n / 2])));
    expect(rhythm.syncopationsPerBar).toBe(perBar);
  });
});
