import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../../audio-fixtures/random.ts';
import { createLiveEar, hearTake } from '../../../src/dsp/index.ts';
import { playable } from '../../../src/dsp/note/range.ts';
import { TUNINGS } from '../../../src/tests-engine/index.ts';
import { render } from '../support/pluck.ts';
import type { Pluck } from '../support/pluck.ts';

const RATE = 44_100;
const STANDARD = [40, 45, 50, 55, 59, 64];
const midis = (
  signal: Float32Array,
  tuning?: readonly number[] | 'any',
  instrument: 'guitar' | 'bass' = 'guitar',
) => hearTake(signal, RATE, { instrument, tuning }).notes.map((note) => note.midi as number);

/** A line with one note in it, the fourth, as far down or up as is asked. */
const lineWith = (odd: number, cents = 0): Pluck[] =>
  [45, 48, 50, odd, 52, 50, 45].map((midi, i) => ({ midi: midi + cents / 100, onsetSec: 0.3 + 0.45 * i }));
const sound = (line: readonly Pluck[]): Float32Array => render(line, RATE, 3.8);

describe('the range of what is heard', () => {
  it('is the open strings and two octaves over the highest, or what any such instrument may have, or all', () => {
    expect(playable({ instrument: 'guitar', tuning: STANDARD })).toEqual({ lowest: 40, highest: 88 });
    expect(playable({ instrument: 'bass', tuning: [43, 38, 33, 28] })).toEqual({ lowest: 28, highest: 67 });
    expect(playable({ instrument: 'guitar' })).toEqual({ lowest: 33, highest: 88 });
    expect(playable({ instrument: 'bass' })).toEqual({ lowest: 23, highest: 72 });
    expect(playable({ instrument: 'guitar', tuning: 'any' })).toEqual({ lowest: 23, highest: 94 });
    for (const { instrument, strings } of TUNINGS)
      expect(playable({ instrument, tuning: strings }).lowest).toBe(Math.min(...strings));
  });

  it('refuses a tuning that is none', () => {
    expect(() => playable({ instrument: 'guitar', tuning: [] })).toThrow(RangeError);
    expect(() => playable({ instrument: 'guitar', tuning: [40, 45.5] })).toThrow(/whole MIDI numbers.*45\.5/);
    expect(() => hearTake(new Float32Array(100), RATE, { instrument: 'guitar', tuning: [400] })).toThrow(
      RangeError,
    );
  });

  it('holds the notes that the tuning has, and no others', () => {
    for (const odd of [38, 33]) {
      const take = sound(lineWith(odd));
      const others = [45, 48, 50, 52, 50, 45];
      expect(midis(take, 'any')).toEqual(lineWith(odd).map((pluck) => pluck.midi));
      expect(midis(take, STANDARD)).toEqual(others);
    }
    expect(midis(sound(lineWith(38)), [38, ...STANDARD.slice(1)])).toContain(38);
    expect(midis(sound(lineWith(26)), undefined, 'bass')).toContain(26);
  });

  it('leaves the lowest open string in, of a guitar in tune and of one up to 45 cents out', () => {
    for (const cents of [-45, 0, 45])
      expect(midis(sound(lineWith(40, cents)), STANDARD)).toEqual([45, 48, 50, 40, 52, 50, 45]);
  });

  it('leaves out a thump under the range without touching the notes beside it', () => {
    const line = lineWith(47);
    const plain = sound(line);
    // A microphone put down: 33 Hz (C1), louder than the strings, before the first note.
    const thumped = plain.map((x, i) => {
      const t = i / RATE - 0.05;
      return t < 0 ? x : x + 0.5 * Math.sin(2 * Math.PI * 33 * t) * Math.exp(-t / 0.09);
    });
    expect(Math.min(...midis(thumped, 'any'))).toBeLessThan(33);
    expect(midis(thumped, STANDARD)).toEqual(line.map((pluck) => pluck.midi));
    const onsets = (signal: Float32Array): number[] =>
      hearTake(signal, RATE, { instrument: 'guitar', tuning: STANDARD }).notes.map((n) => n.onsetSec);
    onsets(thumped).forEach((t, i) => expect(Math.abs(t - onsets(plain)[i]!)).toBeLessThan(0.003));
  });

  it.each(TUNINGS)(
    'is kept by every note of random sounds, whatever the strings: $id',
    ({ instrument, strings }) => {
      const random = makeRandom(strings[0]!);
      const line = Array.from({ length: 12 }, (_, i) => ({
        midi: random.whole(28, 92),
        onsetSec: 0.2 + 0.25 * i,
      }));
      const { lowest, highest } = playable({ instrument, tuning: strings });
      const heard = midis(render(line, RATE, 3.6), strings, instrument);
      for (const midi of heard) expect(midi >= lowest && midi <= highest, `${midi}`).toBe(true);
      const own = line.filter(({ midi }) => midi >= lowest && midi <= highest);
      for (const { midi } of own) expect(heard).toContain(midi);
    },
  );
});

describe('the live ear', () => {
  it('takes back what the instrument cannot give', () => {
    const low = render([{ midi: 28, onsetSec: 0.3 }], RATE, 1.2);
    const events = (instrument: 'guitar' | 'bass') =>
      createLiveEar({ sampleRate: RATE, instrument })
        .push(low)
        .map((event) => (event.type === 'note' ? `${event.midi}` : event.type))
        .filter((word) => /revoked|\d/.test(word));
    expect(events('bass')).toEqual(['28']);
    expect(events('guitar')).toEqual(['revoked']);
  });
});
