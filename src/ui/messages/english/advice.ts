import type { AdviceCode } from '../../../tests-engine/index.ts';
import { PIECE_ADVICE } from './pieces.ts';
import { SCALE_ADVICE } from './scales.ts';

/**
 * The one sentence after a take. Values in braces are made by `advice.ts` from what the marks give:
 * {place}, {interval}, {high}, {octaves}, {by} ("half a beat", "120 ms").
 */
export const ADVICE: Readonly<Record<AdviceCode, string>> = {
  'all-right': 'That was right: every note, in time. Take a new one, or go up a level.',
  nearly:
    'Very nearly: only small things, nowhere in particular. Play it once more and listen to your timing.',
  'nothing-played': 'I heard no notes. Check that the microphone hears you, then try again.',
  'wrong-note': 'One note was {interval} too {high}, at {place}. Sing that spot, then find it on the string.',
  'wrong-notes': '{count} notes were wrong, the first at {place}. Hear it again and sing it before you play.',
  'many-wrong-notes':
    '{count} of {of} notes were wrong. Go slower: find the first note, then sing the phrase bar by bar.',
  'wrong-start':
    'Right tune, but from a note {interval} too {high}. Before you play, sing the first note you were given.',
  'octave-off': 'All the notes are right, an octave {higher}. Find the same start in the other octave.',
  'octave-slip':
    'At {place} you landed an octave too {high}. It is the right note; find the one nearer your hand.',
  'moved-pitch':
    'From {place} on you were {interval} too {high}. Check that jump: sing it, then play it slowly.',
  'came-in-late':
    'You came in {by} late and stayed there. Count the four beats aloud and start on the next “one”.',
  'came-in-early': 'You came in {by} early and stayed there. Wait for the whole count, then start on “one”.',
  'shifted-late': 'You were {by} late from {place} on. Tap your foot through that spot and keep counting.',
  'shifted-early':
    'You were {by} early from {place} on. Hold the note or rest before it for its full length.',
  'stretch-late':
    '{count} notes from {place} came {by} late, then you were back. Count through that passage.',
  'stretch-early':
    '{count} notes from {place} came {by} early, then you were back. Let the beat come to you.',
  hesitated:
    'You waited at {place}, then caught up well. Practise the move into that note until it comes by itself.',
  paused: 'You stopped for a moment before {place}. Practise across that spot, slowly, without a break.',
  restarted:
    'You went back to {place} and began again. In a test keep going: a missed note costs less than a stop.',
  stopped: 'You stopped after {place}; what you played counts. Learn the next bar and join it on.',
  'joined-late': 'You joined in at {place}. Listen to how it begins, and get the first notes ready.',
  'left-out': 'You left out bar {bar}.',
  'left-out-bars': 'You left out bars {bar} to {toBar}.',
  'missed-note': 'One note was missing, at {place}. Hear it again and count how many notes there are.',
  'missed-notes': '{count} notes were missing, the first at {place}. Clap the phrase first, then play it.',
  'extra-note':
    'One note too many, after {place}. Mute the string that still rings, or count the notes once more.',
  'extra-notes': '{count} notes too many. Clap the phrase, count its notes, then play only those.',
  'wrong-rhythm':
    'The right notes in another rhythm. Clap the rhythm without the guitar, then put the notes back.',
  'note-early': 'One note came {ms} ms early, at {place}. Give the note before it its full length.',
  'note-late': 'One note came {ms} ms late, at {place}. Have your finger ready one beat before.',
  'notes-early':
    '{count} notes came early, the first at {place}. Listen to the drums and let each beat arrive.',
  'notes-late':
    '{count} notes came late, the first at {place}. Think one note ahead and keep your foot tapping.',
  'steady-late':
    'Even, but {ms} ms behind the beat all through. Listen to the drums while you play, not to yourself.',
  'steady-early': 'Even, but {ms} ms ahead of the beat all through. Relax and settle into the drums.',
  uneven: 'The notes are right; the beat wavers by about {ms} ms. Play it slowly with a click.',
  'speeding-up': 'You got {percent} % faster along the way. Tap your foot and let the beat hold you back.',
  'slowing-down': 'You got {percent} % slower along the way. Keep the next note ready, and your foot going.',
  ...SCALE_ADVICE,
  ...PIECE_ADVICE,
  unclear:
    'Notes that were not heard clearly ({count}) were not held against you. Play nearer to the microphone.',
  'other-pitch':
    'Only the rhythm counts here; just so you know, the pitch was not always as written ({count}).',
};

/** The same where nothing was heard before the take: the notes stood on the page, or their scale was named. */
export const ADVICE_OF_KNOWN: Readonly<Partial<Record<AdviceCode, string>>> = {
  'wrong-note':
    'One note was {interval} too {high}, at {place}. Name that note first, then find it on the string.',
  'wrong-notes': '{count} notes were wrong, the first at {place}. Name each of them, then play them slowly.',
  'many-wrong-notes':
    '{count} of {of} notes were wrong. Go slower: find the first note, then go on bar by bar.',
  'wrong-start':
    'The right steps, but from a note {interval} too {high}. Find the key and the first note before you begin.',
  'moved-pitch':
    'From {place} on you were {interval} too {high}. Check that jump: name both notes, then play it slowly.',
  'joined-late': 'You joined in at {place}. Have the first notes in your hand before you begin.',
  'missed-note': 'One note was missing, at {place}. Count that bar aloud, then play it.',
  'missed-notes': '{count} notes were missing, the first at {place}. Clap that bar first, then play it.',
  'extra-notes': '{count} notes too many. Clap the rhythm, count its notes, then play only those.',
  'notes-early':
    '{count} notes came early, the first at {place}. Keep your foot tapping and let each beat arrive.',
  'steady-late':
    'Even, but {ms} ms behind the beat all through. Listen to the click while you play, not to yourself.',
  'steady-early': 'Even, but {ms} ms ahead of the beat all through. Relax and wait for the click.',
};
