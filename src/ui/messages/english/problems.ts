import type { AudioProblemCode } from '../../../audio/types.ts';
import type { AnyMark } from '../../../tests-engine/index.ts';
import type { Explained } from '../types.ts';

/** Browser facts and devices that stand in the way. */
export const AUDIO_PROBLEMS: Readonly<Record<AudioProblemCode, Explained>> = {
  'no-audio-worklet': {
    text: 'This browser cannot listen closely enough.',
    remedy: 'Update it, or open Twobar in a current Chrome, Edge, Firefox or Safari.',
  },
  'insecure-context': {
    text: 'The browser gives no microphone to a page at this address.',
    remedy: 'Open Twobar from an https address, or from localhost on this device.',
  },
  'permission-refused': {
    text: 'The microphone is not allowed for this page.',
    remedy: 'Allow it in the browser’s settings for this site (beside the address), then try again.',
  },
  'no-microphone': {
    text: 'No microphone was found.',
    remedy: 'Plug one in, or connect your audio interface, then try again.',
  },
  'microphone-busy': {
    text: 'Another program is using the microphone.',
    remedy: 'Close calls and recording programs, then try again.',
  },
  'microphone-unplugged': {
    text: 'The microphone was disconnected.',
    remedy: 'Plug it in again, then try again.',
  },
  'context-suspended': {
    text: 'The browser has paused the sound.',
    remedy: 'Press Space or touch the page to go on.',
  },
  'processing-not-off': {
    text: 'The browser changes the sound for speech and does not let that be turned off, so notes may go missing.',
    remedy: 'Use another browser, another microphone or an audio interface.',
  },
  headset: {
    text: 'A wireless headset drops to telephone quality while its microphone is open.',
    remedy: 'Choose another microphone; the headset may still be used for listening.',
  },
  'narrow-band': {
    text: 'The microphone sounds like a telephone (nothing above 8 kHz), so the starts of notes are hard to place.',
    remedy: 'Choose another microphone, or turn off call mode in the system’s sound settings.',
  },
  'assets-missing': {
    text: 'The sounds could not be fetched.',
    remedy: 'Check the connection for this first load, then try again.',
  },
};

/** Why a take is not marked, or marked with caution. */
export const NOT_MARKED: Readonly<Record<NonNullable<AnyMark['reason']>, Explained>> = {
  described: {
    text: 'Improvising is described, not marked.',
    remedy: 'Read what is said about it, and let your teacher say what they heard.',
  },
  'for-teacher': {
    text: 'This is for your teacher to mark.',
    remedy: 'What can be said about it stands below.',
  },
  silence: {
    text: 'Nothing was heard.',
    remedy: 'Check the microphone and the input level in the sound check, then play it again.',
  },
  'too-quiet': {
    text: 'You were too quiet to be judged.',
    remedy: 'Move closer to the microphone or turn the input up.',
  },
  clipped: {
    text: 'The input was too loud and distorted.',
    remedy: 'Turn the input down or move away from the microphone.',
  },
  'no-stream': {
    text: 'The sound from the microphone stopped or had gaps.',
    remedy: 'Check the cable, close other programs, then play it again.',
  },
  'not-an-instrument': {
    text: 'What was heard was not a guitar or a bass.',
    remedy: 'Bring the microphone closer to the instrument and keep the room quiet during the take.',
  },
  'backing-only': {
    text: 'Only the backing was heard.',
    remedy: 'Play after the count-in; if you did, check which microphone is chosen.',
  },
  'backing-too-loud': {
    text: 'The backing was louder than you.',
    remedy: 'Use headphones, turn the loudspeakers down, or move closer to the microphone.',
  },
  unclear: {
    text: 'Many notes could not be heard clearly.',
    remedy: 'Let each note ring, mute the other strings, and move closer to the microphone.',
  },
  'no-target': {
    text: 'This test has no notes to compare with.',
    remedy: 'Choose another test.',
  },
  'nothing-played': {
    text: 'No notes were heard.',
    remedy: 'Play after the count-in; if you did, check the input level in the sound check.',
  },
};
