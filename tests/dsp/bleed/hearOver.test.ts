import { describe, expect, it } from 'vitest';
import { hearOverBacking, hearTake } from '../../../src/dsp/index.ts';
import { isHeard } from '../../../src/dsp/bleed/hearOver.ts';
import { bleedOf, noiseSource, simpleBacking, simpleRoom } from './scene.ts';

const RATE = 24_000;
const FROM = 6;
const reference = simpleBacking(5, RATE, 10);
const PLUCKS = [6.513, 7.021, 7.498, 8.107];
const MIDI = [45, 48, 50, 52];

/** Harmonic plucks and a whisper of noise: a player with headphones. */
function headphones(plucks: readonly number[]): Float32Array {
  const noise = noiseSource(3);
  const out = Float32Array.from(reference, () => 0.0005 * noise());
  plucks.forEach((at, i) => {
    const f = 440 * 2 ** ((MIDI[i]! - 69) / 12);
    for (let n = 0; n < 0.45 * RATE; n++)
      for (let h = 1; h < 12; h++)
        out[Math.round(at * RATE) + n]! +=
          (0.1 / h) * Math.sin((2 * Math.PI * f * h * n) / RATE) * Math.exp((-4 * h ** 0.5 * n) / RATE);
  });
  return out;
}

const bleed = bleedOf(reference, {
  rate: RATE,
  delaySec: 0.09,
  driftPpm: 20,
  room: simpleRoom(3, RATE, 0.2),
});
const hear = (recording: Float32Array, sent = reference, fromSec = FROM) =>
  hearOverBacking(recording, RATE, { instrument: 'guitar', reference: sent, fromSec });

describe('hearing over a backing', () => {
  it('changes nothing with headphones: the same notes at the same times', () => {
    const recording = headphones(PLUCKS);
    const over = hear(recording);
    const start = Math.round((FROM - 0.15) * RATE);
    const alone = hearTake(recording.subarray(start), RATE, { instrument: 'guitar' });
    expect(over.heard.delayMs).toBe(null);
    expect(over.notes.map((n) => n.midi)).toEqual(MIDI);
    expect(over.notes.map((n) => n.midi)).toEqual(alone.notes.map((n) => n.midi));
    over.notes.forEach((n, i) => expect(n.onsetSec - start / RATE).toBeCloseTo(alone.notes[i]!.onsetSec, 9));
  });
  it('takes a bleed 61 dB under the player for chance, and one 20 dB under for a bleed', () => {
    expect(isHeard({ bleedDb: -61 })).toBe(false);
    expect(isHeard({ bleedDb: -20 })).toBe(true);
  });
  it('hears the notes under a louder backing, in recording time, with its delay', () => {
    const player = headphones(PLUCKS);
    const shares: number[] = [];
    const over = hearOverBacking(
      player.map((v, n) => v + bleed[n]!),
      RATE,
      { instrument: 'guitar', reference, fromSec: FROM, onProgress: (share) => shares.push(share) },
    );
    expect(over.notes.map((n) => n.midi)).toEqual(MIDI);
    over.notes.forEach((n, i) => expect(Math.abs(n.onsetSec - PLUCKS[i]!)).toBeLessThan(0.02));
    expect(Math.abs(over.heard.delayMs! - 90)).toBeLessThan(0.5);
    expect(Math.abs(over.heard.driftPpm! - 20)).toBeLessThan(2);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)).toBe(1);
  });
  it('refuses a silent student: no notes, and says that there was only the backing', () => {
    const over = hear(headphones([]).map((v, n) => v + bleed[n]!));
    expect(over.notes).toEqual([]);
    expect(over.heard).toMatchObject({ verdict: 'refused', reason: 'backing-only' });
  });
});

describe('what the recording itself says, over a backing', () => {
  const over = headphones(PLUCKS).map((v, n) => v + bleed[n]!);
  const peak = over.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  const takeAt = (gain: number) => hear(over.map((v) => Math.max(-1, Math.min(1, gain * v))));
  const at = (gain: number) => takeAt(gain).heard;
  it('cautions of a take too soft, and refuses silence', () => {
    expect(at(0.01)).toMatchObject({ verdict: 'caution', reason: 'too-quiet' });
    expect(at(0.001)).toMatchObject({ verdict: 'refused', reason: 'silence' });
  });
  it('cautions of an overdriven input, or refuses it, and does neither at full scale', () => {
    expect(at(0.99 / peak)).toMatchObject({ verdict: 'ok', reason: null });
    expect(at(4 / peak)).toMatchObject({ verdict: 'caution', reason: 'clipped' });
    expect(at(40 / peak)).toMatchObject({ verdict: 'refused', reason: 'clipped' });
  });
  it('hands out the notes of a take with caution, and none of a refused one', () => {
    expect(takeAt(4 / peak).notes.length).toBeGreaterThan(0);
    expect(takeAt(8 / peak)).toMatchObject({
      notes: [],
      heard: { verdict: 'refused', reason: 'backing-too-loud' },
    });
  });
  it('knows the backing all the same', () => {
    expect(Math.abs(at(0.01).delayMs! - 90)).toBeLessThan(0.5);
  });
});

describe('hostile recordings', () => {
  const player = headphones(PLUCKS);
  const over = player.map((v, n) => v + bleed[n]!);
  it('takes samples that are no numbers for silence', () => {
    const broken = over.slice();
    for (let n = 0; n < 40; n++) broken[1000 + 5000 * n] = [NaN, Infinity, -Infinity][n % 3]!;
    const { notes, heard } = hear(broken);
    expect(notes.map((n) => n.midi)).toEqual(MIDI);
    for (const note of notes) expect(Object.values(note).every(Number.isFinite)).toBe(true);
    expect(Number.isFinite(heard.delayMs)).toBe(true);
  });
  it('bears a reference of another length', () => {
    // Half a second of the backing is not in the reference: there, and only there, it is heard.
    const known = hear(over, reference.subarray(0, 9.5 * RATE)).notes.filter((n) => n.onsetSec < 9.4);
    expect(known.map((n) => n.midi)).toEqual(MIDI);
    const longer = new Float32Array(reference.length + RATE);
    longer.set(reference);
    expect(hear(over, longer).notes.map((n) => n.midi)).toEqual(MIDI);
  });
  it('answers to silence, to no reference at all and to half a second', () => {
    expect(hear(new Float32Array(over.length)).heard.verdict).toBe('refused');
    expect(hear(player, new Float32Array(0)).notes.map((n) => n.midi)).toEqual(MIDI);
    expect(hear(new Float32Array(RATE / 2), reference, 0.2).heard.verdict).toBe('refused');
  });
  it('refuses an empty recording, a start outside it and an impossible rate', () => {
    expect(() => hear(new Float32Array(0))).toThrow(RangeError);
    expect(() => hear(over, reference, 99)).toThrow(/inside the recording/);
    expect(() => hear(over, reference, NaN)).toThrow(RangeError);
    expect(() => hearOverBacking(over, 4000, { instrument: 'guitar', reference, fromSec: 1 })).toThrow(
      RangeError,
    );
  });
});
