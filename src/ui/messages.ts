import type { AudioProblemCode } from '../audio/types.ts';
import { LATENCY_MESSAGES } from './messages/latency.ts';
import { PHRASES_MESSAGES } from './messages/phrases.ts';
import { PRACTICE_MESSAGES } from './messages/practice.ts';
import { READING_MESSAGES } from './messages/reading.ts';
import { RECORD_MESSAGES } from './messages/record.ts';
import type { AdviceCode, AnyMark } from '../tests-engine/index.ts';

/**
 * Everything that a user reads, in one place. `{name}` stands for a value; a translation keeps the names.
 * The voice: short, kind, second person, the trade's words; what went wrong comes with what to do next.
 */
export const MESSAGES = {
  'app.name': 'Twobar',
  'nav.label': 'Main',
  'nav.start': 'Test',
  'nav.practice': 'Practice',
  'nav.progress': 'Progress',
  'nav.teacher': 'Teacher',
  'nav.settings': 'Sound check',
  'nav.about': 'About',
  'nav.licences': 'Licences',
  'nav.skip': 'Skip to the page',
  'mic.on': 'Microphone on',
  'mic.off': 'Microphone off',
  'mic.close': 'Turn off',
  'keys.hint': 'Space or Page Down goes on. Page Up goes back.',
  'keys.onward': 'Page Down:',
  'keys.back': 'Page Up:',
  'keys.first': 'Left arrow:',
  'keys.does.listen': 'begin to listen',
  'keys.does.again': 'hear it again',
  'keys.does.find': 'go and find it',
  'keys.does.count': 'count me in',
  'keys.does.over': 'I have finished',
  'keys.does.give-up': 'give this take up',
  'keys.does.next': 'next test',
  'keys.does.a': 'choose A',
  'keys.does.b': 'choose B',
  'keys.does.answer': 'that is my answer',
  'keys.does.start': 'start over',
  'keys.does.first': 'first note',
  'theme.label': 'Paper',
  'theme.auto': 'as the device',
  'theme.light': 'light',
  'theme.dark': 'dark',
  'common.back': 'Back',
  'common.next': 'Go on',
  'common.later': 'Skip this',
  'common.again': 'Try again',
  'common.loading': 'One moment',
  'common.close': 'Close',
  'update.ready': 'A new version is ready. It will be used the next time you open Twobar.',
  'error.title': 'Something did not work',
  'error.remedy': 'Load the page again. Your settings are kept.',
  'error.link': 'That link does not hold a test that can be opened here.',

  'check.title': 'Sound check',
  'check.step': 'Question {number} of {count}',
  'check.caution.title': 'Before you play',
  'check.caution.level':
    'Start at a moderate level. Loud sound over a long time damages hearing, with headphones most easily: keep it where you could still talk over it, and give your ears a rest.',
  'check.caution.hands':
    'Take breaks. Repeating a phrase for long strains hands and arms; stop if it hurts, and see a doctor or a therapist if it goes on.',
  'check.caution.marks':
    'Marks are practice feedback. What counts in an exam is decided by your teacher and the board’s own syllabus.',
  'check.caution.source': 'After the World Health Organization’s advice on safe listening.',
  'check.caution.ok': 'Understood',
  'check.instrument.title': 'What do you play?',
  'check.instrument.guitar': 'Guitar',
  'check.instrument.bass': 'Bass',
  'check.tuning.label': 'Tuning',
  'check.microphone.title': 'Which microphone hears you?',
  'check.microphone.ask':
    'Your browser asks for permission to use the microphone. Sound is heard on this machine and is not sent anywhere.',
  'check.microphone.open': 'Turn the microphone on',
  'check.microphone.device': 'Microphone',
  'check.microphone.default': 'The usual one',
  'check.microphone.channel': 'Input',
  'check.microphone.louder': 'The louder one',
  'check.microphone.channel.n': 'Input {number}',
  'check.level.title': 'Play your lowest string, as loud as you would',
  'check.level.help': 'The line should reach into the marked part when you play.',
  'check.level.label': 'Input level',
  'check.level.none': 'Nothing heard yet',
  'check.level.quiet': 'A little more: move closer or turn the input up',
  'check.level.good': 'Good level',
  'check.level.hot': 'Too much: turn the input down or move away',
  'check.tune.title': 'Is it in tune?',
  'check.tune.play': 'Play the {string} string, {note}',
  'check.tune.all': 'All strings are in tune',
  'check.tune.flat': '{cents} cents flat',
  'check.tune.sharp': '{cents} cents sharp',
  'check.tune.in': 'In tune',
  'check.tune.waiting': 'Listening',
  'check.tune.string': '{ordinal} string',
  'check.output.title': 'Where does the sound come out?',
  'check.output.speakers': 'Loudspeakers',
  'check.output.speakers.help': 'The backing is taken out of what the microphone hears.',
  'check.output.headphones': 'Headphones',
  'check.output.headphones.help': 'The fairest hearing. Keep the level moderate.',
  'check.done': 'Go to the tests',

  'start.title': 'What would you like to play?',
  'start.kind': 'Test',
  'start.kind.melody': 'Melody',
  'start.kind.melody.help': 'Hear a phrase, find it, play it back.',
  'start.kind.rhythm': 'Rhythm',
  'start.kind.rhythm.help': 'Hear a rhythm on the lowest string, play it back, then say which of two it was.',
  'start.level': 'Level',
  'start.level.n': 'Level {level}',
  'start.key': 'Key',
  'start.key.any': 'Any key',
  'start.manner': 'Manner',
  'start.manner.strict': 'Strict',
  'start.manner.strict.help': 'As in an exam: no repeats, no note names, one take.',
  'start.manner.relaxed': 'Relaxed',
  'start.manner.relaxed.help': 'Hear it again, slower or by halves; see the note you play.',
  'start.go': 'Begin',
  'start.linked': 'This test came with a link.',
  'start.order': 'How it goes',
  'start.order.key': 'The key is named; you hear its chord and the first note.',
  'start.order.listen': 'You hear the phrase over a backing, a bar of drums, and the phrase again.',
  'start.order.practice': 'A short silence to find it.',
  'start.order.play': 'You are counted in and play over the backing alone.',
  'start.order.question': 'You say which of two written rhythms it was.',
  'start.order.result': 'You get a mark, with reasons.',
  'start.with': '{instrument}, {tuning} tuning',

  'step.key': 'Key',
  'step.listen': 'Listen',
  'step.again': 'Again',
  'step.practice': 'Find it',
  'step.count': 'Count',
  'step.play': 'Play',
  'step.key.help': 'The key, its chord and the first note.',
  'step.listen.help': 'The phrase over the backing.',
  'step.again.help': 'Once more. You may play along quietly.',
  'step.practice.help': 'A short silence to find it.',
  'step.count.help': 'Counted in.',
  'step.play.help': 'Your take, over the backing alone.',
  'test.preparing': 'Making your test',
  'test.key': 'Key',
  'test.key.value': '{tonic} {scale}',
  'test.first': 'First note',
  'test.first.value': '{note}, {string} string, {place}',
  'test.fret': 'fret {fret}',
  'test.open': 'open',
  'test.lowest': 'All on the lowest string',
  'test.seconds': '{seconds} s',
  'test.stop': 'Stop',
  'test.ready': 'I am ready',
  'test.finished': 'I have finished',
  'test.more': 'More time',
  'test.heard': 'You play',
  'test.help.first': 'First note',
  'test.help.repeat': 'Again',
  'test.help.slower': 'Slower',
  'test.help.halves': 'By halves',
  'test.help.half.first': 'First half',
  'test.help.half.second': 'Second half',
  'test.checking': 'Listening to your take',
  'test.stave': 'Empty stave, {bars} bars',
  'test.void.title': 'That take does not count',
  'test.void.hidden': 'The page was hidden while you played, so not everything was heard.',
  'test.void.context-suspended': 'The sound stopped while you played.',
  'test.void.microphone-unplugged': 'The microphone went away while you played.',
  'test.void.call': 'A call or another program took the sound while you played.',
  'test.void.listener-failed': 'Your take was recorded but could not be heard through.',
  'test.void.abandoned': 'You gave this take up.',
  'test.broken.hidden': 'The page was hidden, so the test stopped. It cost nothing.',
  'test.broken.microphone-unplugged': 'The microphone went away, so the test stopped. It cost nothing.',
  'test.broken.context-suspended': 'The sound was paused, so the test stopped. It cost nothing.',
  'test.broken.call': 'Another program took the sound, so the test stopped. It cost nothing.',
  'test.broken.listener-failed': 'Listening failed. It cost nothing.',
  'test.broken.abandoned': 'The test stopped. It cost nothing.',
  'test.void.remedy': 'Nothing is marked. Try the same test again when you are ready.',
  'test.void.again': 'Play it again',

  'question.title': 'Which rhythm did you play?',
  'question.a': 'A',
  'question.b': 'B',
  'question.key.a': 'Page Up',
  'question.key.b': 'Page Down or Space',
  'question.confirm': 'Press the same key again to answer.',
  'question.rhythm': 'Rhythm {letter}',

  'result.title': 'Your take',
  'result.keys': 'Space or Page Down takes the next test. Page Up plays the same again.',
  'result.keys.unmarked': 'Space or Page Down plays it again. Page Up takes the next test.',
  'result.of': 'of 100',
  'result.there': 'Got it',
  'result.close': 'Close',
  'result.not-yet': 'Not yet',
  'result.range': 'between {low} and {high}: some notes were hard to hear',
  'result.not-marked': 'Not marked',
  'result.caution': 'Heard with caution',
  'result.answer.right': 'You chose {chosen}. That is the rhythm.',
  'result.answer.wrong': 'You chose {chosen}. The rhythm was {answer}.',
  'result.answer.label': 'Which rhythm',
  'result.listen': 'Hear',
  'result.listen.target': 'The phrase',
  'result.listen.mine': 'My take',
  'result.listen.both': 'Both',
  'result.listen.stop': 'Stop',
  'result.next': 'Next test',
  'result.again': 'Same again',
  'result.halves': 'By halves',
  'result.slower': 'Slower',
  'result.other': 'Another choice',
  'result.print': 'Print',
  'result.teacher': 'Teacher’s mark and remark',
  'result.rivals': 'The two rhythms',
  'result.rivals.played': 'asked',
  'result.rivals.chosen': 'your answer',
  'result.details': 'Details',
  'result.details.note': 'Note',
  'result.details.verdict': 'Verdict',
  'result.details.time': 'Time',
  'result.details.played': 'Played',
  'result.details.lost': 'Where points went',
  'result.lost.notes': 'Notes',
  'result.lost.rhythm': 'Rhythm',
  'result.lost.pulse': 'Pulse',
  'result.lost.continuity': 'Continuity',
  'result.bias.late': 'On the whole {ms} ms late',
  'result.bias.early': 'On the whole {ms} ms early',
  'result.bias.uncounted': '{ms} ms of that are neither counted nor drawn.',
  'result.bias.none': 'On the beat as a whole',
  'result.uneven': 'Uneven by {ms} ms',
  'result.tuning': 'Your instrument stands {cents} cents from concert pitch',
  'result.test.code': 'This test',
  'result.test.link': 'Copy the link',
  'result.test.copied': 'Copied',
  'result.help': 'Help used: {help}',
  'result.help.none': 'No help used',
  'help.repeat': 'heard again',
  'help.slower': 'slower',
  'help.halves': 'by halves',
  'help.first-note': 'first note again',
  'help.live-note': 'note names',
  'verdict.right': 'right',
  'verdict.wrong': 'wrong note',
  'verdict.early': 'early',
  'verdict.late': 'late',
  'verdict.missed': 'missed',
  'verdict.extra': 'extra',
  'verdict.unclear': 'hard to hear',
  'verdict.played': 'played {note}',
  'strip.early': 'early',
  'strip.late': 'late',
  'strip.zero': '0 ms',
  'strip.label': 'Timing of each note in milliseconds',
  'score.label': 'The phrase on staff and TAB with a verdict under each note',
  'score.failed': 'The notation could not be drawn. Load the page again while you are online.',
  'score.swing': 'swing quavers',

  'licences.title': 'Licences',
  'licences.intro': 'Every sound, voice and typeface in Twobar, where it comes from and its licence.',
  'licences.sounds': 'Sounds and voice',
  'licences.origin': 'Where it comes from',
  'licences.failed': 'The list could not be fetched. Load the page again while you are online.',
  'licences.fonts': 'Typefaces',
  'licences.code': 'Libraries',
  'about.title': 'About Twobar',
  'about.job':
    'Twobar makes the ear tests of a practical guitar or bass exam: a fresh phrase at your level, the key and the first note, two hearings over a backing, a short while to find it, a count-in, and then it listens. You get a mark with its reasons.',
  'about.private':
    'No audio leaves this machine and nothing is kept of it unless you turn that on. After the first load no network is needed.',
  'about.caution': 'Take care of your ears and hands',

  'missing.title': 'There is no such page',
  'missing.back': 'To the tests',
  'place.bar': 'bar {bar}, {place}',
  'place.on': 'beat {beat}',
  'place.and': 'beat {beat} “and”',
  'place.in': 'within beat {beat}',
  'place.semiquaver.second': 'second semiquaver of beat {beat}',
  'place.semiquaver.fourth': 'last semiquaver of beat {beat}',
  'place.triplet.second': 'second triplet note of beat {beat}',
  'place.triplet.third': 'third triplet note of beat {beat}',
  'place.quaver.second': 'second quaver of beat {beat}',
  'place.quaver.third': 'third quaver of beat {beat}',
  'advice.place.note': 'note {note}',
  'advice.interval.semitone': 'a semitone',
  'advice.interval.tone': 'a tone',
  'advice.interval.more': '{count} semitones',
  'advice.high': 'high',
  'advice.low': 'low',
  'advice.higher': 'higher',
  'advice.lower': 'lower',
  'advice.by.quarter': 'a quarter of a beat',
  'advice.by.third': 'a third of a beat',
  'advice.by.half': 'half a beat',
  'advice.by.two-thirds': 'two thirds of a beat',
  'advice.by.three-quarters': 'three quarters of a beat',
  'advice.by.one-and-half': 'a beat and a half',
  'advice.by.quaver': 'a quaver',
  'advice.by.quavers': '{count} quavers',
  'advice.by.one': 'a beat',
  'advice.by.beats': '{beats} beats',
  'unit.ms': '{ms} ms',
  'note.sharp': '{letter} sharp',
  'note.flat': '{letter} flat',
  ...PHRASES_MESSAGES,
  ...PRACTICE_MESSAGES,
  ...READING_MESSAGES,
  ...LATENCY_MESSAGES,
  ...RECORD_MESSAGES,
} as const;

export type MessageKey = keyof typeof MESSAGES;
type Names<Text> = Text extends `${string}{${infer Name}}${infer Rest}` ? Name | Names<Rest> : never;
type Values<Key extends MessageKey> = Names<(typeof MESSAGES)[Key]>;

/**
 * The text of `key` with its values put in.
 * The compiler asks for exactly the values that the text names.
 */
export function t<Key extends MessageKey>(
  key: Key,
  ...values: [Values<Key>] extends [never] ? [] : [Readonly<Record<Values<Key>, string | number>>]
): string {
  return fill(MESSAGES[key], (values[0] ?? {}) as Readonly<Record<string, string | number>>);
}

/** Puts values into `{name}` places; a name without a value stays visible, so that a test finds it. */
export function fill(text: string, values: Readonly<Record<string, string | number>>): string {
  return text.replace(/\{(\w+)\}/g, (whole, name: string) => String(values[name] ?? whole));
}

/** What went wrong, and what to do next. */
export interface Explained {
  readonly text: string;
  readonly remedy: string;
}

/** Browser facts and devices that stand in the way. */
export const AUDIO_PROBLEMS: Readonly<Record<AudioProblemCode, Explained>> = {
  'no-audio-worklet': {
    text: 'This browser cannot listen closely enough.',
    remedy: 'Update it, or open Twobar in a current Chrome, Edge, Firefox or Safari.',
  },
  'insecure-context': {
    text: 'The browser gives no microphone to a page at this address.',
    remedy: 'Open Twobar from an https address, or from localhost on this machine.',
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
    text: 'The microphone went away.',
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
    text: 'The microphone gives nothing above 8 kHz, so attacks are hard to place.',
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
    remedy: 'Read what is told of it, and let your teacher say what they heard.',
  },
  'for-teacher': {
    text: 'This is for your teacher to mark.',
    remedy: 'What could be told of it stands below.',
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

/**
 * The one sentence after a take. Values in braces are made by `advice.ts` from what the marks give:
 * {place}, {interval}, {high}, {octaves}, {by} ("half a beat", "120 ms").
 */
export const ADVICE: Readonly<Record<AdviceCode, string>> = {
  'all-right': 'That was right: every note, in time. Take a new one, or a level more.',
  nearly:
    'Very nearly: nothing in one place, only small things. Play it once more and listen to your timing.',
  'nothing-played': 'I heard no notes. Check that the microphone hears you, then try again.',
  'wrong-note': 'One note was {interval} too {high}, at {place}. Sing that spot, then find it on the string.',
  'wrong-notes': '{count} notes were wrong, the first at {place}. Hear it again and sing it before you play.',
  'many-wrong-notes':
    '{count} of {of} notes were wrong. Go slower: find the first note, then sing the phrase bar by bar.',
  'wrong-start':
    'Right tune, but from a note {interval} too {high}. Before you play, sing the first note you were given.',
  'octave-off': 'All the notes are right, an octave {higher}. Find the same start in the other octave.',
  'octave-slip': 'At {place} you landed an octave too {high}. The note is right; look for its nearer place.',
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
    '{count} notes came early, the first at {place}. Lean on the drums and let each beat arrive.',
  'notes-late':
    '{count} notes came late, the first at {place}. Think one note ahead and keep your foot tapping.',
  'steady-late':
    'Even, but {ms} ms behind the beat all through. Listen to the drums while you play, not to yourself.',
  'steady-early': 'Even, but {ms} ms ahead of the beat all through. Relax and sit on the drums.',
  uneven: 'The notes are right; the beat wavers by about {ms} ms. Play it slowly with a click.',
  'speeding-up': 'You got {percent} % faster along the way. Tap your foot and let the click hold you.',
  'slowing-down': 'You got {percent} % slower along the way. Keep the next note ready, and your foot going.',
  unclear:
    '{count} notes were not heard clearly, so they were not held against you. Play nearer to the microphone.',
  'other-pitch': 'Rhythm is what counts here; by the way, {count} notes were on another pitch than written.',
};
