import { describe, expect, it } from 'vitest';
import {
  LEVELS,
  LevelFormatError,
  ShortCodeError,
  TUNINGS,
  levelTest,
  makeTest,
  parseLevel,
  parseTest,
  shortCode,
  testFromCode,
} from '../../../src/tests-engine/material/index.ts';
import { permuted } from '../../../src/tests-engine/material/random/permutation.ts';
import { makeRandom } from '../../../src/tests-engine/material/random/random.ts';
import type { PracticeTest } from '../../../src/music/score.ts';

const base = { kind: 'melody', level: 3, seed: 99, instrument: 'guitar' } as const;

describe('makeTest', () => {
  it('gives the same test for the same options, another for another seed', () => {
    expect(makeTest(base)).toEqual(makeTest(base));
    expect(makeTest({ ...base, seed: 100 }).phrase).not.toEqual(makeTest(base).phrase);
  });
  it('keeps to what was asked', () => {
    const key = { tonic: 'C', scale: 'minor pentatonic' };
    const test = makeTest({
      ...base,
      key,
      style: 'funk',
      tempoBpm: 61,
      procedure: { hearings: 3, practiceSec: 7 },
    });
    expect(test).toMatchObject({
      key,
      style: 'funk',
      tempoBpm: 61,
      procedure: { hearings: 3, practiceSec: 7 },
    });
    expect(parseTest(JSON.parse(JSON.stringify(test)))).toEqual(test);
  });
  it.each(['melody', 'rhythm'] as const)(
    'gives a level that shares its metres with another the %s it gives alone, whichever was asked first',
    (kind) => {
      const listed = LEVELS[3]!;
      const own = {
        ...listed,
        melodyFigures: LEVELS[0]!.melodyFigures,
        rhythmFigures: LEVELS[5]!.rhythmFigures,
      };
      const asked = { kind, seed: 100, instrument: 'guitar', tuning: TUNINGS[0]!.strings } as const;
      const alone = levelTest(structuredClone(own), asked);
      expect(levelTest(listed, asked).phrase).not.toEqual(alone.phrase);
      expect(levelTest(own, asked)).toEqual(alone);
    },
  );
  it('fits every listed tuning at every level', () => {
    for (const { instrument, strings } of TUNINGS)
      for (let level = 1; level <= LEVELS.length; level++)
        for (const kind of ['melody', 'rhythm'] as const) {
          const test = makeTest({ kind, level, seed: 5, instrument, tuning: strings });
          expect(parseTest(JSON.parse(JSON.stringify(test)))).toEqual(test);
        }
  }, 300_000);
  it.each([
    [{ level: 0 }, /level must be a whole number 1…10, got 0/],
    [{ level: 2.5 }, /got 2\.5/],
    [{ seed: -1 }, /seed must be a whole number 0…4294967295, got -1/],
    [{ seed: NaN }, /got NaN/],
    [{ tempoBpm: 10 }, /tempo must be 30…240/],
    [{ tuning: [40, 45] }, /a tuning is 4…8 MIDI numbers/],
    [{ style: 'polka' }, /style must be one of rock/],
    [{ kind: 'song' }, /kind must be melody or rhythm/],
    [{ instrument: 'lute' }, /instrument must be guitar or bass/],
    [{ key: { tonic: 'H', scale: 'major' } }, /"H major" is no key/],
    [{ procedure: { hearings: 0 } }, /hearings must be a whole number 1…10/],
  ])('refuses %j with a RangeError naming it', (change, message) => {
    expect(() => makeTest({ ...base, ...change } as never)).toThrow(RangeError);
    expect(() => makeTest({ ...base, ...change } as never)).toThrow(message);
  });
});

describe('a position that was asked for', () => {
  const HANDS = { open: 1, II: 2, V: 5, VII: 7, XII: 12 } as const;
  const asked = Object.entries(HANDS) as [keyof typeof HANDS, number][];
  const under = (test: PracticeTest, fret: number, reach: number): boolean =>
    test.phrase.notes.every(
      (note) => (fret === 1 && note.fret === 0) || (note.fret! >= fret && note.fret! <= fret + reach),
    );

  it.each(asked)('%s is kept at every level, one finger a fret, seeds 0…19', (position, fret) => {
    for (let level = 1; level <= LEVELS.length; level++)
      for (let seed = 0; seed < 20; seed++) {
        const instrument = seed % 2 ? 'bass' : 'guitar';
        const test = makeTest({ kind: 'melody', level, seed, instrument, position });
        expect(under(test, fret, 3), `level ${level} seed ${seed}`).toBe(true);
      }
  });

  it.each(asked)(
    '%s is kept in a key of one’s own, the little finger stretched where it must',
    (position, fret) => {
      for (const level of [1, 4, 7, 10])
        for (const tonic of ['C', 'G', 'D', 'A', 'E', 'B', 'F#', 'Db', 'Ab', 'Eb', 'Bb', 'F'])
          for (const instrument of ['guitar', 'bass'] as const) {
            const key = { tonic, scale: 'major' };
            const test = makeTest({ kind: 'melody', level, seed: 7, instrument, position, key });
            expect(test.key).toEqual(key);
            expect(under(test, fret, 4), `${tonic} level ${level} ${instrument}`).toBe(true);
          }
    },
  );
});

describe('a teacher’s own level', () => {
  const own = {
    ...LEVELS[3]!,
    name: 'Dorian in D',
    scales: [{ scale: 'dorian', tonics: ['D'] }],
    tempo: [60, 60, 1] as const,
  };
  it('comes back from JSON and makes tests', () => {
    const level = parseLevel(JSON.parse(JSON.stringify(own)));
    expect(level).toEqual(own);
    const test = levelTest(level, { kind: 'melody', seed: 1, instrument: 'bass' });
    expect(test).toMatchObject({ level: null, key: { tonic: 'D', scale: 'dorian' }, tempoBpm: 60 });
  });
  it('may ask for every semitone of three octaves: as much of it as lies under the hand', () => {
    const level = parseLevel({
      ...JSON.parse(JSON.stringify(LEVELS[4])),
      scales: [{ scale: 'chromatic', tonics: ['D', 'Eb'] }],
      ranges: [[-12, 24]],
      positions: [1, 1],
      melodyBand: null,
    });
    const eight = [26, 31, 36, 41, 46, 51, 56, 61];
    const fretted = new Set<number>();
    for (let seed = 0; seed < 200; seed++) {
      const { phrase } = levelTest(level, { kind: 'melody', seed, instrument: 'guitar', tuning: eight });
      const pitches = phrase.notes.map(({ midi }) => midi as number);
      const highest = Math.max(...pitches);
      const leap = Math.max(...pitches.slice(1).map((pitch, i) => Math.abs(pitch - pitches[i]!)));
      expect(leap).toBeLessThanOrEqual(level.maxLeap);
      expect(pitches.filter((pitch) => pitch === highest)).toHaveLength(1);
      expect(Math.max(...phrase.notes.map(({ fret }) => fret!))).toBeLessThanOrEqual(4);
      for (const pitch of pitches) fretted.add(pitch);
    }
    expect(fretted.size).toBeGreaterThan(24);
  });
  it('may be any of ours', () => {
    for (const level of LEVELS) expect(parseLevel(JSON.parse(JSON.stringify(level)))).toEqual(level);
  });
  it.each([
    [{ colour: 1 }, /colour is a key that no level has/],
    [{ maxLeap: NaN }, /maxLeap is not right/],
    [{ melodyFigures: ['hop'] }, /melodyFigures\.0 is not right/],
    [{ scales: [{ scale: 'major', tonics: ['H'] }] }, /"H major" is no key/],
    [{ tempo: [90, 60, 1] }, /the slower tempo first/],
  ])('is refused when it holds %j', (change, message) => {
    expect(() => parseLevel({ ...own, ...change })).toThrow(LevelFormatError);
    expect(() => parseLevel({ ...own, ...change })).toThrow(message);
  });
  it('says which limits cannot be met', () => {
    const narrow = { ...own, melodyFigures: ['minim'], melodyBand: null };
    const metres = [{ ...own.metres[0]!, melodyNotes: [7, 8] as const }];
    expect(() => levelTest({ ...narrow, metres }, { kind: 'melody', seed: 1, instrument: 'guitar' })).toThrow(
      /no bar of 4\/4 with 7–8 notes/,
    );
  });
});

describe('a short code', () => {
  it('brings back the very same test', () => {
    for (const kind of ['melody', 'rhythm'] as const)
      for (const instrument of ['guitar', 'bass'] as const)
        for (const [level, seed] of [
          [1, 0],
          [5, 4294967295],
          [10, 123456],
        ] as const) {
          const test = makeTest({ kind, level, seed, instrument });
          const code = shortCode(test)!;
          expect(code).toMatch(/^[0-9A-Z]{3}-[0-9A-Z]{7}-[0-9A-Z]$/);
          expect(testFromCode(code)).toEqual(test);
          expect(testFromCode(code.toLowerCase().replaceAll('-', ' '))).toEqual(test);
        }
  });
  it('is not given to a test changed by hand', () => {
    expect(shortCode(makeTest({ ...base, tempoBpm: 61 }))).toBeNull();
    expect(shortCode({ ...makeTest(base), level: null })).toBeNull();
  });
  it('finds every single mistyped letter but 0 for Z', () => {
    const code = shortCode(makeTest(base))!.replaceAll('-', '');
    const digits = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
    for (let i = 0; i < code.length; i++)
      for (const digit of digits) {
        if (digit === code[i] || [digit, code[i]].sort().join('') === '0Z') continue;
        expect(() => testFromCode(code.slice(0, i) + digit + code.slice(i + 1)), `${i} ${digit}`).toThrow(
          ShortCodeError,
        );
      }
  });
  it.each([
    ['', /has 11 letters/],
    ['1M3-00000KF-?', /has 11 letters/],
    ['2M3-0000000-0', /./],
  ])('is refused when it is "%s"', (code, message) => {
    expect(() => testFromCode(code)).toThrow(ShortCodeError);
    expect(() => testFromCode(code)).toThrow(message);
  });
});

describe('chance', () => {
  it('is a permutation for every size tried, and another for another key', () => {
    for (const size of [1, 2, 3, 17, 256, 1000]) {
      const all = Array.from({ length: size }, (_, i) => permuted(i, size, 5));
      expect(new Set(all).size).toBe(size);
    }
    expect(permuted(3, 1000, 1)).not.toBe(permuted(3, 1000, 2));
    expect(() => permuted(5, 5, 0)).toThrow(/index must lie in 0…4, got 5/);
  });
  it('is even: 100,000 draws of below(10) hold each digit within five standard deviations', () => {
    const random = makeRandom(1);
    const counts = new Array<number>(10).fill(0);
    for (let i = 0; i < 100_000; i++) counts[random.below(10)]!++;
    // s.d. of a binomial count is √(100,000 · 0.1 · 0.9) = 95.
    for (const count of counts) expect(Math.abs(count - 10_000)).toBeLessThan(475);
    expect(() => random.below(0)).toThrow(/below\(n\) takes a whole number/);
    expect(() => random.pick([])).toThrow(/empty list/);
  });
});
