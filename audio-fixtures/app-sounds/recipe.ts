/**
 * Makes src/audio/assets: `npx tsx audio-fixtures/app-sounds/recipe.ts`, from the repository's root.
 *
 * Needs ffmpeg, flite, fluidsynth and fluid-soundfont-gm (Debian's packages) and the npm sample packs. Each
 * file begins with a short tone burst of known centre: decoders differ in how much of an mp3's start they
 * drop, and the burst tells the app by how much (src/audio/render/bank.ts).
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { PitchDetector } from 'pitchy';
import { attackSec } from '../../src/audio/render/attack.ts';
import type { SampleEntry, SoundManifest } from '../../src/audio/render/manifest.ts';
import { momentaryLoudness } from '../../src/audio/render/loudness/loudness.ts';
import { SYNC_SEC, syncBurst, syncCentreSec } from '../../src/audio/render/sync.ts';
import { cutAtAttack, roundPeaks, trim } from './cut.ts';
import {
  DRUM_PIECES,
  FONT_VOICES,
  PACK_VOICES,
  SOURCES,
  WORDS,
  WORD_STRETCH,
  packFile,
} from './inventory.ts';
import { RATE, decode, encodeMp3, fileBytes, soundfontNote, speak } from './tools.ts';

const OUT = 'src/audio/assets';
/** Where the first sound lies: the burst has died away and no codec frame is shared. */
const FIRST_SEC = 0.2;
/** Silence between sounds, seconds: longer than an mp3 frame's spread (26 ms), so that none leaks into the next. */
const GAP_SEC = 0.06;
/** Level that `gainDb` brings each one-shot's first 400 ms to, LUFS; only a common footing for the mixer. */
const FOOTING_LUFS = -23;

type Piece = Pick<SampleEntry, 'id' | 'source'> & {
  sound: Float32Array;
  midi: number | null;
  vowelSec: number | null;
};

/** 2 lifts a pluck's body by 6 dB against its first milliseconds: a clean amplifier's doing, no audible grit. */
const STRING_DRIVE = 2;
const strings = (): Piece[] =>
  PACK_VOICES.flatMap(({ voice, pack, keys, filter, lengthSec }) =>
    keys.map((midi) => ({
      id: `${voice}.${midi}`,
      source: 'tonejs-instruments',
      midi,
      vowelSec: null,
      sound: roundPeaks(cutAtAttack(decode(packFile(pack, midi), filter), lengthSec(midi)), STRING_DRIVE),
    })),
  );

const band = (): Piece[] =>
  FONT_VOICES.flatMap(({ voice, program, keys, lengthSec, velocity }) =>
    keys.map((key) => ({
      id: `${voice}.${key}`,
      source: 'fluid-r3',
      midi: key,
      vowelSec: null,
      sound: cutAtAttack(
        soundfontNote({ channel: 0, program, key, velocity, heldSec: lengthSec }),
        lengthSec,
      ),
    })),
  );

/** 3 takes about 8 dB off a stroke's spike against its body, inaudible on a stroke of a few milliseconds. */
const DRUM_DRIVE = 3;
const drums = (): Piece[] =>
  Object.entries(DRUM_PIECES).map(([piece, { key, lengthSec }]) => ({
    id: piece,
    source: 'fluid-r3',
    midi: null,
    vowelSec: null,
    sound: roundPeaks(
      cutAtAttack(
        soundfontNote({ channel: 9, program: 0, key, velocity: 110, heldSec: lengthSec }),
        lengthSec,
      ),
      DRUM_DRIVE,
    ),
  }));

const speech = (): Piece[] =>
  WORDS.map((word) => {
    const { samples, vowelSec } = speak(word, WORD_STRETCH);
    const { startSec, endSec } = spokenSpan(samples, vowelSec);
    return {
      id: word,
      source: 'flite-rms',
      midi: null,
      vowelSec: vowelSec - startSec,
      sound: roundPeaks(trim(samples, startSec, endSec - startSec), 1.5),
    };
  });

/** From the first (at latest 10 ms before the vowel) to the last instant within 35 dB of a word's loudest sample. */
function spokenSpan(samples: Float32Array, vowelSec: number): { startSec: number; endSec: number } {
  const floor = samples.reduce((top, value) => Math.max(top, Math.abs(value)), 0) * 10 ** (-35 / 20);
  const loud = (value: number): boolean => Math.abs(value) > floor;
  return {
    startSec: Math.min(samples.findIndex(loud) / RATE, vowelSec - 0.01),
    endSec: samples.findLastIndex(loud) / RATE,
  };
}

/** How far the note sounds from its name, cents, over 0.15–0.35 s after the attack. */
function measuredCents(sound: Float32Array, midi: number): number {
  const detector = PitchDetector.forFloat32Array(8192);
  const [hertz, clarity] = detector.findPitch(sound.subarray(4096, 4096 + 8192), RATE);
  const off = 1200 * Math.log2(hertz / (440 * 2 ** ((midi - 69) / 12)));
  if (!(clarity > 0.8) || !(Math.abs(off) < 40))
    throw new Error(`MIDI ${midi} sounds ${off} cents off (clarity ${clarity})`);
  return off;
}

const round = (value: number, digits: number): number => Number(value.toFixed(digits));

function makeFile(name: string, pieces: Piece[], kbps: number): { entries: SampleEntry[]; bytes: number } {
  const starts: number[] = [];
  let end = FIRST_SEC;
  for (const { sound } of pieces) {
    starts.push(end);
    end += sound.length / RATE + GAP_SEC;
  }
  const sprite = new Float32Array(Math.ceil((end + GAP_SEC) * RATE));
  sprite.set(syncBurst(RATE));
  pieces.forEach(({ sound }, i) => sprite.set(sound, Math.round(starts[i]! * RATE)));
  const path = `${OUT}/${name}.mp3`;
  encodeMp3(sprite, path, kbps);

  // All that follows is measured in what a decoder gives back, not in what went in.
  const decoded = decode(path);
  const shift = syncCentreSec(decoded, RATE) - SYNC_SEC;
  const entries = pieces.map(({ id, source, sound, midi, vowelSec }, i): SampleEntry => {
    const startSec = starts[i]!;
    const from = Math.round((startSec + shift) * RATE);
    const heard = decoded.slice(from, from + sound.length);
    const attack = vowelSec ?? attackSec(heard, RATE);
    const level = momentaryLoudness(heard, RATE);
    if (attack === null || level === null) throw new Error(`${id} is silent after decoding`);
    return {
      id,
      file: name,
      source,
      startSec: round(startSec, 6),
      lengthSec: round(sound.length / RATE, 6),
      attackSec: round(attack, 6),
      gainDb: round(FOOTING_LUFS - level, 2),
      midi,
      cents: midi === null ? 0 : round(measuredCents(heard, midi), 1),
    };
  });
  return { entries, bytes: fileBytes(path) };
}

mkdirSync(OUT, { recursive: true });
// 80 kbit/s mono is what 160 kbit/s is for stereo; drums are noise and get more, speech needs less.
const files = {
  strings: makeFile('strings', strings(), 80),
  band: makeFile('band', band(), 80),
  drums: makeFile('drums', drums(), 96),
  speech: makeFile('speech', speech(), 64),
};
const manifest: SoundManifest = {
  files: Object.keys(files),
  sources: [...SOURCES],
  samples: Object.values(files).flatMap(({ entries }) => entries),
};
writeFileSync(`${OUT}/manifest.json`, `${JSON.stringify(manifest, null, 1)}\n`);
for (const [name, { entries, bytes }] of Object.entries(files))
  console.log(`${name}.mp3: ${entries.length} sounds, ${bytes} bytes`);
