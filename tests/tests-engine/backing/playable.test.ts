import { describe, expect, it } from 'vitest';
import { MANIFEST } from '../../../src/audio/render/manifest.ts';
import { backingSheet, makeTest } from '../../../src/tests-engine/index.ts';

/** A recording is stretched by an octave at most (src/audio/render/stroke.ts). */
const FURTHEST = 12;
const recorded = (voice: string): number[] =>
  MANIFEST.samples.flatMap(({ id, midi }) => (id.startsWith(`${voice}.`) && midi !== null ? [midi] : []));

/** Notes that no recording can be stretched to. */
const outOfReach = (test: ReturnType<typeof makeTest>): string[] =>
  backingSheet(test).cues.flatMap((cue) =>
    cue.type === 'note' && Math.min(...recorded(cue.voice).map((m) => Math.abs(m - cue.midi))) > FURTHEST
      ? [`${cue.voice} ${cue.midi}`]
      : [],
  );

describe('what the arranger writes', () => {
  it.each([
    [4, 215],
    [4, 679],
    [6, 7],
    [6, 187],
  ])('can be sounded where a bass’s ballad lies highest: level %i, seed %i', (level, seed) => {
    const test = makeTest({ kind: 'melody', level, seed, instrument: 'bass' });
    expect(test.style).toBe('ballad');
    expect(outOfReach(test)).toEqual([]);
  });
  it('can be sounded at every level, in every style, over guitar and bass', () => {
    for (let level = 1; level <= 10; level++)
      for (let seed = 0; seed < 200; seed++) {
        const instrument = seed % 2 ? 'bass' : 'guitar';
        const kind = seed % 4 < 2 ? 'melody' : 'rhythm';
        expect(outOfReach(makeTest({ kind, level, seed, instrument })), `${kind} ${level} ${seed}`).toEqual(
          [],
        );
      }
  });
});
