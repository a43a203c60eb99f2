import { describe, expect, it } from 'vitest';
import { isCut, seamNear } from '../../../src/dsp/decision/seam.ts';
import { hearTake } from '../../../src/dsp/index.ts';
import { PHRASE, render } from '../support/pluck.ts';
import type { Pluck } from '../support/pluck.ts';

const RATE = 44_100;
/** A bass's lowest string, plucked anew eight times. */
const LOW: readonly Pluck[] = Array.from({ length: 8 }, (_, i) => ({ midi: 28, onsetSec: 0.3 + 0.5 * i }));
const SCENES = [
  { name: 'a bass’s lowest string', instrument: 'bass', plucks: LOW, sound: render(LOW, RATE, 4.6) },
  { name: 'a guitar’s phrase', instrument: 'guitar', plucks: PHRASE, sound: render(PHRASE, RATE, 5.4) },
] as const;
/** From a pluck to the samples that are lost, s. */
const AFTER_SEC = 0.11;
const periodOf = ({ midi }: Pluck): number => 1 / (440 * 2 ** ((midi - 69) / 12));
/** How many are lost, s: whole periods leave no seam, and nothing to hear either. */
const LENGTHS = [0.0031, 0.0047, 0.0064, 0.0083];
const PARTS = [0.1, 0.3, 0.7];

interface Cut {
  readonly at: number;
  readonly sec: number;
}
function withCuts(sound: Float32Array, cuts: readonly Cut[]): Float32Array {
  const lost = new Set<number>();
  for (const { at, sec } of cuts) for (let i = 0; i < sec * RATE; i++) lost.add(Math.round(at * RATE) + i);
  return sound.filter((_, i) => !lost.has(i));
}

describe.each(SCENES)('samples lost without a trace out of $name', ({ instrument, plucks, sound }) => {
  it.each(PARTS)('leave a seam where they were, which no pluck is: %f periods', (periods) => {
    for (const pluck of plucks) {
      const cut = { at: pluck.onsetSec + AFTER_SEC, sec: periods * periodOf(pluck) };
      const seam = seamNear(withCuts(sound, [cut]), cut.at * RATE - 90);
      expect(seam !== null && isCut(seam, 0)).toBe(true);
      expect(Math.abs((seam?.at ?? 0) - cut.at * RATE)).toBeLessThan(3);
      const own = seamNear(sound, pluck.onsetSec * RATE);
      expect(own !== null && isCut(own, 0)).toBe(false);
    }
  });

  it.each(LENGTHS)('are not heard as notes: %f s', (sec) => {
    const cuts = plucks.slice(1, -1).map(({ onsetSec }) => ({ at: onsetSec + AFTER_SEC, sec }));
    const { notes } = hearTake(withCuts(sound, cuts), RATE, { instrument });
    expect(notes.map(({ midi }) => midi)).toEqual(plucks.map(({ midi }) => midi));
  });
});

it('where more than one note is cut the take is heard with caution', () => {
  const [{ plucks, sound, instrument }] = SCENES;
  const cuts = plucks.slice(1, -1).map(({ onsetSec }) => ({ at: onsetSec + AFTER_SEC, sec: 0.0064 }));
  expect(hearTake(sound, RATE, { instrument }).heard.verdict).toBe('ok');
  const { heard } = hearTake(withCuts(sound, cuts), RATE, { instrument });
  expect(heard).toEqual({ verdict: 'caution', reason: 'no-stream' });
});

it('a stretch that is silent or ends has no seam', () => {
  expect(seamNear(new Float32Array(RATE), RATE / 2)).toBeNull();
  const { sound } = SCENES[0];
  expect(seamNear(sound, 100)).toBeNull();
  expect(seamNear(sound, sound.length - 100)).toBeNull();
});
