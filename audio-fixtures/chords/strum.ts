import type { Bank, RecordedNote } from '../banks/types.ts';
import { highPass, lowPass } from '../effects/filters.ts';
import { addHiss, addTo } from '../effects/noise.ts';
import { convolve, roomResponse } from '../effects/room.ts';
import { drive } from '../effects/tone.ts';
import { hashText, makeRandom, type Random } from '../random.ts';
import { resample } from '../resample.ts';
import { peakTo } from '../take.ts';
import { damp, makeVoice, rms } from '../voice.ts';
import { drawChord, sounding, type ChordKind, type Fingered } from './shapes.ts';
import { spoil, type Fault } from './faults.ts';

/** What a room, a microphone and an amplifier add. */
export const EFFECTS = ['clean', 'room', 'laptop', 'noise', 'detuned', 'raked', 'crunch', 'heavy'] as const;
export type Effect = (typeof EFFECTS)[number];
export const DRIVEN: readonly Effect[] = ['crunch', 'heavy'];

export interface StrumOrder {
  readonly kind: ChordKind;
  readonly fault: Fault;
  readonly effect: Effect;
  readonly bank: Bank;
  readonly seed: number;
}

export interface MadeStrum {
  readonly order: StrumOrder;
  readonly chord: Fingered;
  /** MIDI numbers asked for, and those that were made to sound, lowest string first. */
  readonly asked: readonly number[];
  readonly sounding: readonly number[];
  /** Mono, {@link RATE}. */
  readonly signal: Float32Array;
  readonly tuningCents: number;
  /** A detuned instrument is the whole read so much faster: divide the times below by it. */
  readonly speed: number;
  readonly firstSec: number;
  /** Attack of the last string. */
  readonly lastSec: number;
  /** The hand damps everything here. */
  readonly untilSec: number;
}

export const RATE = 44_100;
const STROKE_RMS = 10 ** (-26 / 20);
/** Strings of a set-up guitar lie within a few cents of one another; fretting adds to it. */
const SCATTER_CENTS = 3;
const VARIANTS = 3;
const VOICE_SEC = 2.4;
/** Old voices are forgotten beyond so many. */
const MOST_VOICES = 1200;

const voices = new Map<
  string,
  { readonly pcm: Float32Array; readonly attack: number; readonly level: number }
>();

/** A note at its pitch, some cents off; three of each are kept, since reading one costs a thousand additions. */
function voice(bank: Bank, midi: number, variant: number) {
  const key = `${bank.name}/${midi}/${variant}`;
  const known = voices.get(key);
  if (known) return known;
  const own = makeRandom(hashText(key));
  const near = [...bank.notes].sort((a, b) => Math.abs(a.midi - midi) - Math.abs(b.midi - midi));
  const other: RecordedNote | undefined = near[1];
  const recording = variant === 1 && other && Math.abs(other.midi - midi) < 3.5 ? other : near[0]!;
  const cents = SCATTER_CENTS * own.normal();
  const made = makeVoice(
    { onsetSec: 0, durationSec: VOICE_SEC, midi, levelDb: 0 },
    recording,
    midi + cents / 100,
    VOICE_SEC,
    RATE,
  );
  const level = rms(made.pcm, made.attack, made.attack + Math.round(0.3 * RATE));
  if (voices.size > MOST_VOICES) voices.clear();
  const kept = { ...made, level };
  voices.set(key, kept);
  return kept;
}

/** Lays the strings of one stroke into `signal`; gives each string's attack, s. */
export function stroke(
  signal: Float32Array,
  bank: Bank,
  notes: readonly { readonly midi: number; readonly downDb: number; readonly atSec: number }[],
  untilSec: number,
  random: Random,
): void {
  const brightness = random.chance(0.4) ? random.between(1500, 6000) : null;
  const mix = new Float32Array(signal.length);
  for (const { midi, downDb, atSec } of notes) {
    const { pcm, attack, level } = voice(bank, midi, random.whole(0, VARIANTS - 1));
    const db = -downDb + 2.5 * random.normal();
    addTo(
      mix,
      pcm,
      Math.round(atSec * RATE) - attack,
      (STROKE_RMS / Math.max(1e-6, level)) * 10 ** (db / 20),
    );
  }
  if (brightness !== null) lowPass(mix, brightness, RATE);
  damp(mix, Math.round(untilSec * RATE), random.between(0.03, 0.06), RATE);
  addTo(signal, mix);
}

/** Attacks of strings struck in order, from `firstSec` on; `gapSec` from string to string, uneven. */
export function rake(count: number, firstSec: number, gapSec: number, random: Random): number[] {
  const at: number[] = [];
  for (let i = 0, now = firstSec; i < count; i++, now += gapSec * random.between(0.6, 1.4)) at.push(now);
  return at;
}

/** @param speed how much faster the whole is read: an instrument tuned otherwise */
function disturb(signal: Float32Array, effect: Effect, speed: number, random: Random): Float32Array {
  let out = signal;
  if (speed !== 1) {
    const moved = resample(out, speed);
    out = new Float32Array(out.length);
    out.set(moved.subarray(0, out.length));
  }
  if (effect === 'room') {
    const room = { rt60Sec: random.between(0.3, 0.6), wetDb: random.between(-12, -4) };
    out = convolve(out, roomResponse(room, RATE, random.fork('room')));
    highPass(out, 60, RATE);
  }
  if (effect === 'laptop') {
    const room = { rt60Sec: random.between(0.25, 0.45), wetDb: random.between(-12, -6) };
    out = convolve(out, roomResponse(room, RATE, random.fork('room')));
    highPass(out, random.between(90, 220), RATE);
    lowPass(out, random.between(5000, 9000), RATE);
  }
  if (effect === 'crunch') drive(out, random.between(2, 4), RATE);
  if (effect === 'heavy') drive(out, random.between(8, 20), RATE);
  const level = rms(out, Math.round(0.3 * RATE), Math.round(1 * RATE));
  const snr = effect === 'noise' ? 20 : effect === 'laptop' ? random.between(28, 40) : random.between(40, 55);
  addHiss(
    out,
    20 * Math.log10(Math.max(level, 1e-6)) - snr,
    RATE,
    random.fork('hiss'),
    random.between(2000, 12_000),
  );
  peakTo(out, random.between(-16, -3));
  return out;
}

/**
 * One strum of real recorded strings with everything known about it; null where the chord drawn cannot have the fault.
 * The same order gives the same samples.
 */
export function makeStrum(order: StrumOrder): MadeStrum | null {
  const { kind, fault, effect, bank, seed } = order;
  const random = makeRandom((seed ^ hashText(`${kind}/${fault}/${effect}/${bank.name}`)) >>> 0);
  let chord: Fingered | null = null;
  let faulty: ReturnType<typeof spoil> = null;
  for (let tries = 0; tries < 30 && !faulty; tries++) {
    chord = drawChord(kind, random);
    faulty = spoil(chord, fault, random);
  }
  if (!chord || !faulty) return null;
  const firstSec = random.between(0.25, 0.4);
  const durationSec = random.between(1.1, 1.7);
  const untilSec = firstSec + durationSec;
  const signal = new Float32Array(Math.round((untilSec + 0.4) * RATE));
  if (random.chance(0.3)) {
    // Another chord before, damped as the hand comes down.
    const before = drawChord(kind, random);
    const notes = sounding(before).map((midi) => ({ midi, downDb: 0, atSec: random.between(-0.4, -0.2) }));
    stroke(signal, bank, notes, firstSec - random.between(0.01, 0.06), random);
  }
  const gap =
    effect === 'raked'
      ? random.between(0.02, 0.06)
      : kind === 'arpeggiated'
        ? random.between(0.03, 0.05)
        : random.between(0.002, 0.012);
  const struck = faulty.strings.flatMap((midi, i) =>
    midi === null ? [] : [{ midi, downDb: faulty.downDb[i]! }],
  );
  const upStroke = random.chance(0.3);
  if (upStroke) struck.reverse();
  const at = rake(struck.length, firstSec, gap, random);
  stroke(
    signal,
    bank,
    struck.map((s, i) => ({ ...s, atSec: at[i]! })),
    untilSec,
    random,
  );
  const tuningCents = effect === 'detuned' ? random.between(15, 38) * (random.chance(0.5) ? 1 : -1) : 0;
  const speed = 2 ** (tuningCents / 1200);
  return {
    order,
    chord,
    asked: sounding(chord).sort((a, b) => a - b),
    sounding: sounding(faulty).sort((a, b) => a - b),
    signal: disturb(signal, effect, speed, random),
    tuningCents,
    speed,
    firstSec,
    lastSec: at.at(-1)!,
    untilSec,
  };
}
