import type { ChordDoubt } from '../../../music/chords/index.ts';
import type { ChordFactCode } from '../../../tests-engine/index.ts';
import type { Explained } from '../types.ts';

/** Texts about chords that were asked for. Values in braces are made by `chordText.ts` from what the marks give. */

/** The one sentence after a take of chords. {chord}, {from}, {to}: symbols; {note}, {instead}: notes by name. */
export const CHORD_SENTENCES: Readonly<Record<ChordFactCode, string>> = {
  'chords-right': 'Those were the chords, and in time. Take new ones, or a quicker tempo.',
  'chord-another':
    'In place of {chord} another chord sounded. Look at its shape once more, then change to it slowly.',
  'chord-replaced': '{chord} had {instead} where {note} belongs. Check the finger on that string.',
  'chord-missing':
    '{chord} came without its {note}. Play it string by string: one of them is muted or left out.',
  'chord-foreign': 'In {chord} a {note} sounded that is not part of it. Mute that string, or leave it out.',
  'chord-bass': '{chord} stood on another lowest note. Begin the stroke at the string that carries its bass.',
  'chord-missed': '{chord} was not struck. Keep counting and go on with the next one.',
  'change-late':
    'The change from {from} to {to} took you {ms} ms too long. Practise those two alone, without strumming.',
  'chords-late': 'Your strokes came {ms} ms late. Begin to move the hand before the beat.',
  'chords-early': 'Your strokes came {ms} ms early. Let the bar last its full length.',
  'chord-extra': 'More was struck than asked ({count} more). One stroke a chord is enough here.',
  'chord-unsure': 'Some chords could not be told for sure ({count}). They cost you nothing.',
};

/** Why a chord could not be told, and what to do about it. */
export const CHORD_DOUBTS: Readonly<Record<ChordDoubt, Explained>> = {
  'out-of-tune': {
    text: 'The guitar as a whole is far from concert pitch, or its strings do not agree.',
    remedy: 'Tune it, then play again.',
  },
  'too-short': {
    text: 'The chord did not ring for long enough.',
    remedy: 'Let each chord ring for at least half a second.',
  },
  'too-quiet': {
    text: 'The chord hardly stood out of the noise.',
    remedy: 'Move closer to the microphone, or play a little louder.',
  },
  'not-a-chord': {
    text: 'Much of what sounded was no string.',
    remedy: 'Play where it is quiet, or use headphones for the backing.',
  },
  close: {
    text: 'It was too close to call.',
    remedy: 'Let all strings ring evenly; it costs you nothing.',
  },
};

/** What no microphone can know; shown beside the verdicts. */
export const CHORD_MESSAGES = {
  'chords.limits':
    'Sound cannot tell which string or fret a note was played on, or whether a note that sounds twice lacks once. That is never held against you.',
} as const;
