import { describe, expect, it } from 'vitest';
import type { SheetMark } from '../../src/music/score.ts';
import { sec } from '../../src/music/units.ts';
import { systemsFor, xOfTicks } from '../../src/ui/engraving/layout.ts';
import { levelShare, levelWord } from '../../src/ui/level.ts';
import { ordinal, pitchName } from '../../src/ui/names.ts';
import { lanesFor } from '../../src/ui/result/lanes.ts';
import { barsInto, countNow, toBeat } from '../../src/ui/session/where.ts';
import { checkedSettings, DEFAULTS } from '../../src/ui/settings/check.ts';
import { parseLinked } from '../../src/ui/state/linked.svelte.ts';
import { parseRoute } from '../../src/ui/state/route.svelte.ts';
import { nearestString, tuned } from '../../src/ui/tuning.ts';

describe('settings', () => {
  it('let a bad value give way to the default, alone', () => {
    expect(checkedSettings({ ...DEFAULTS, level: 7, theme: 'pink', manner: 'relaxed' })).toEqual({
      ...DEFAULTS,
      level: 7,
      manner: 'relaxed',
    });
    for (const kept of [null, undefined, 'x', 3, [], { level: NaN, channel: -1, key: { tonic: 'H' } }])
      expect(checkedSettings(kept)).toEqual(DEFAULTS);
  });
});

describe('addresses', () => {
  it('name a page, a link or nothing', () => {
    expect(parseRoute('').name).toBe('start');
    expect(parseRoute('#/check').name).toBe('check');
    expect(parseRoute('#/nowhere').name).toBe('missing');
    expect(parseRoute('#t=abc').name).toBe('link');
  });
  it('bring back a test by kind, level and seed, and refuse anything else', () => {
    expect(parseLinked(['melody', '3', '4294967295'])).toEqual({
      kind: 'melody',
      level: 3,
      seed: 4294967295,
    });
    for (const rest of [
      ['melody', '11', '1'],
      ['scale', '1', '1'],
      ['rhythm', '1', '4294967296'],
      ['rhythm', '1', '-1'],
      [],
    ])
      expect(parseLinked(rest)).toBeNull();
  });
});

describe('where the sound stands', () => {
  const mark = (label: SheetMark['label'], index: number, at: number): SheetMark => ({
    label,
    index,
    atSec: sec(at),
  });
  const marks = [
    mark('countIn', 0, 0),
    mark('countIn', 1, 1),
    mark('bar', 0, 4),
    mark('beat', 0, 4),
    mark('beat', 1, 5),
    mark('bar', 1, 8),
    mark('bar', 2, 20),
  ];
  it('counts bars through each sounding of the phrase, and is nowhere between them', () => {
    expect(barsInto(marks, 3.9, 2, 4)).toBeNull();
    expect(barsInto(marks, 6, 2, 4)).toBeCloseTo(0.5);
    expect(barsInto(marks, 10, 2, 4)).toBeCloseTo(1.5);
    expect(barsInto(marks, 14, 2, 4)).toBeNull();
    expect(barsInto(marks, 21, 2, 4)).toBeCloseTo(0.25);
  });
  it('shows each number of the count for its beat', () => {
    expect([0.5, 1.5, 2.5].map((at) => countNow(marks, at, 4, 1))).toEqual([1, 2, null]);
  });
  it('jumps from beat to beat for those who asked for less motion', () => {
    expect(toBeat(marks, 5.9)).toBe(5);
  });
});

describe('layout', () => {
  it('breaks four bars into 2 + 2, never 3 + 1', () => {
    expect(systemsFor(4, 1000, 300).map(({ firstBar, endBar }) => endBar - firstBar)).toEqual([2, 2]);
    expect(systemsFor(2, 358, 300).length).toBe(2);
    expect(systemsFor(2, 700, 300).length).toBe(1);
  });
  it('puts an instant between the note columns it lies between', () => {
    const system = {
      width: 400,
      height: 100,
      topY: 0,
      bottomY: 0,
      ...{ staff: { topY: 0, gap: 10 }, tab: null },
      bars: [{ bar: 0, startTicks: 0, endTicks: 1920, startX: 100, endX: 400 }],
      notes: [
        { noteIndex: 0, startTicks: 0, x: 110 },
        { noteIndex: 1, startTicks: 960, x: 210 },
      ],
    };
    expect(xOfTicks(system, 480)).toBeCloseTo(160);
    expect(xOfTicks(system, 960)).toBeCloseTo(210);
    expect(xOfTicks(system, 1440)).toBeCloseTo(305);
  });
  it('gives words that would touch lanes of their own, and two lanes to two lines', () => {
    const word = (x: number, lines = 1) => ({ x, width: 40, lines });
    expect(lanesFor([word(0), word(50), word(60), word(65)], 3)).toEqual([0, 0, 1, 2]);
    expect(lanesFor([word(0, 2), word(10), word(20)], 3)).toEqual([0, 2, null]);
  });
});

describe('the sound check', () => {
  const guitar = [40, 45, 50, 55, 59, 64];
  it('finds the string that is meant, and none for a pitch between strings', () => {
    expect(nearestString(guitar, 44.9)).toEqual({ index: 1, cents: expect.closeTo(-10) as number });
    expect(nearestString(guitar, 42.5)).toBeNull();
  });
  it('takes a string as tuned once it has been steady within 5 cents, not sooner', () => {
    const near = (cents: number) => ({ index: 0, cents });
    let now = tuned({ string: null, cents: null, steadySinceMs: null, done: [] }, near(4), 0);
    now = tuned(now, near(3), 200);
    expect(now.done).toEqual([]);
    now = tuned(now, near(12), 300);
    now = tuned(now, near(2), 400);
    now = tuned(now, near(2), 700);
    expect(now.done).toEqual([]);
    now = tuned(now, near(2), 760);
    expect(now.done).toEqual([0]);
  });
  it('has a word for each level', () => {
    expect([null, -60, -40, -20, -3].map(levelWord)).toEqual(['none', 'none', 'quiet', 'good', 'hot']);
    expect(levelShare(-60)).toBe(0);
    expect(levelShare(0)).toBe(1);
  });
});

describe('names', () => {
  it('spell a pitch as the key does', () => {
    expect(pitchName(58, { tonic: 'F', scale: 'major' })).toBe('B♭');
    expect(pitchName(58, { tonic: 'B', scale: 'major' })).toBe('A♯');
  });
  it('number strings in words', () => {
    expect([1, 2, 3, 4, 11, 21].map(ordinal)).toEqual(['1st', '2nd', '3rd', '4th', '11th', '21st']);
  });
});
