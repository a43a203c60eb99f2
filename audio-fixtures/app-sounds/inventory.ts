/** What the app's sound files are made of: every voice, its notes, its source, its length. */

const LETTERS = ['C', 'Cs', 'D', 'Ds', 'E', 'F', 'Fs', 'G', 'Gs', 'A', 'As', 'B'];
export const packFile = (pack: string, midi: number): string =>
  `node_modules/tonejs-instrument-${pack}-mp3/${LETTERS[midi % 12]}${Math.floor(midi / 12) - 1}.mp3`;

/** Plucked voices cut from the npm packs: the notes the packs hold within an instrument's range. */
export const PACK_VOICES = [
  {
    voice: 'guitar',
    pack: 'guitar-electric',
    keys: [37, 40, 42, 45, 48, 51, 54, 57, 60, 63, 66, 69, 72, 75, 78, 81, 84],
    // A laptop's loudspeaker gives nothing under 280 Hz: the third partial upwards must carry a low E.
    filter: 'treble=g=5:f=900:w=0.7',
    lengthSec: (midi: number): number => (midi < 60 ? 2.4 : 1.7),
  },
  {
    voice: 'bassGuitar',
    pack: 'bass-electric',
    keys: [25, 28, 31, 34, 37, 40, 43, 46, 49, 52, 55, 58],
    filter: 'treble=g=9:f=500:w=0.7',
    lengthSec: (): number => 2.2,
  },
] as const;

/** Voices played from the soundfont: General MIDI programs (from 0), every major third. */
export const FONT_VOICES = [
  { voice: 'bass', program: 33, keys: [28, 32, 36, 40, 44, 48, 52], lengthSec: 1.6, velocity: 100 },
  { voice: 'keys', program: 4, keys: [44, 48, 52, 56, 60, 64, 68, 72, 76], lengthSec: 2.6, velocity: 90 },
  {
    voice: 'rhythmGuitar',
    program: 25,
    keys: [44, 48, 52, 56, 60, 64, 68, 72],
    lengthSec: 1.4,
    velocity: 95,
  },
] as const;

/** General MIDI's percussion keys (shaker: 82, a common extension that the soundfont has). */
export const DRUM_PIECES = {
  kick: { key: 36, lengthSec: 0.35 },
  snare: { key: 38, lengthSec: 0.35 },
  rim: { key: 37, lengthSec: 0.2 },
  hat: { key: 42, lengthSec: 0.2 },
  openHat: { key: 46, lengthSec: 0.7 },
  ride: { key: 51, lengthSec: 1 },
  crash: { key: 49, lengthSec: 1.5 },
  tomHigh: { key: 50, lengthSec: 0.5 },
  tomLow: { key: 45, lengthSec: 0.6 },
  shaker: { key: 82, lengthSec: 0.2 },
  clave: { key: 75, lengthSec: 0.2 },
  congaHigh: { key: 63, lengthSec: 0.4 },
  congaLow: { key: 64, lengthSec: 0.4 },
  click: { key: 77, lengthSec: 0.15 },
  clickAccent: { key: 76, lengthSec: 0.15 },
} as const;

export const WORDS = ['one', 'two', 'three', 'four', 'five', 'six', 'seven', 'and', 'ready'] as const;
/** Words are spoken at this share of flite's usual length: the longest then fits a beat at 140 bpm (429 ms). */
export const WORD_STRETCH = 0.72;

export const SOURCES = [
  {
    id: 'tonejs-instruments',
    title: 'tonejs-instruments: electric guitar and electric bass',
    author: 'Nicholaus P. Brosowsky and the players of the public-domain sources he edited',
    licence: 'CC BY 3.0',
    licenceUrl: 'https://creativecommons.org/licenses/by/3.0/',
    url: 'https://github.com/nbrosowsky/tonejs-instruments',
    changes: 'cut at the attack, shortened, treble raised, joined into one file, re-encoded',
  },
  {
    id: 'fluid-r3',
    title: 'Fluid (R3) General MIDI SoundFont',
    author: 'Frank Wen and contributors',
    licence: 'MIT',
    licenceUrl: 'https://opensource.org/license/mit',
    url: 'https://packages.debian.org/bookworm/fluid-soundfont-gm',
    changes: 'single notes and drum strokes rendered with FluidSynth, shortened, joined, encoded',
  },
  {
    id: 'flite-rms',
    title: 'Spoken numbers, and what the examiner says in English, by Flite, voice rms (CMU ARCTIC)',
    author: 'Carnegie Mellon University, Language Technologies Institute',
    licence: 'BSD-style (CMU)',
    licenceUrl: 'https://github.com/festvox/flite/blob/master/COPYING',
    url: 'http://cmuflite.org',
    changes: 'words synthesised, trimmed, joined, encoded',
  },
  {
    id: 'espeak-ng',
    title: 'What the examiner says in German and Spanish, by eSpeak NG',
    author: 'eSpeak NG developers',
    licence: 'made with a program under GPL-3.0-or-later; nothing of it is contained',
    licenceUrl: 'https://github.com/espeak-ng/espeak-ng/blob/master/COPYING',
    url: 'https://github.com/espeak-ng/espeak-ng',
    changes: 'our sentences synthesised, levelled, encoded',
  },
] as const;
