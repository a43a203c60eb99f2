import type { ChordDoubt, QualityId } from '../../../music/chords/index.ts';
import type { ChordFactCode } from '../../../tests-engine/index.ts';
import type { Explained } from '../types.ts';

/** Texts about chords that were asked for. Values in braces are made by `chordText.ts` from what the marks give. */

/** The one sentence after a take of chords. {chord}, {from}, {to}: symbols; {note}, {instead}: notes by name. */
export const CHORD_SENTENCES: Readonly<Record<ChordFactCode, string>> = {
  'chords-right': 'Those were the chords, and in time. Take new ones, or a quicker tempo.',
  'chord-another':
    'Another chord sounded in place of {chord}. Look at its shape once more, then change to it slowly.',
  'chord-replaced': '{chord} had {instead} where {note} belongs. Check the finger on that string.',
  'chord-missing':
    '{chord} came without its {note}. Play it string by string: one of them is muted or left out.',
  'chord-foreign': 'In {chord} a {note} sounded that is not part of it. Mute that string, or leave it out.',
  'chord-bass': '{chord} had another lowest note. Start the strum on the string with its bass note.',
  'chord-missed': '{chord} was not played. Keep counting and go on with the next one.',
  'change-late':
    'The change from {from} to {to} took you {ms} ms too long. Practise those two alone, without strumming.',
  'chords-late': 'Your strums came {ms} ms late. Start moving your hand before the beat.',
  'chords-early': 'Your strums came {ms} ms early. Let the bar last its full length.',
  'chord-extra': 'There were more strums than asked for ({count} more). One strum a chord is enough here.',
  'not-heard': 'This take could not be heard well enough to be marked: {why}',
  'chord-unsure': 'Some chords could not be judged for sure ({count}). They cost you nothing.',
};

/** Why a chord could not be told, and what to do about it. */
export const CHORD_DOUBTS: Readonly<Record<ChordDoubt, Explained>> = {
  'out-of-tune': {
    text: 'The strings are not in tune with one another.',
    remedy: 'Tune your strings, then play again.',
  },
  'too-short': {
    text: 'The chord did not ring for long enough.',
    remedy: 'Let each chord ring for at least half a second.',
  },
  'too-quiet': {
    text: 'The chord hardly stood out from the noise.',
    remedy: 'Move closer to the microphone, or play a little louder.',
  },
  'not-a-chord': {
    text: 'Much of what was heard did not come from the strings.',
    remedy: 'Play where it is quiet, or use headphones for the backing.',
  },
  close: {
    text: 'It was too close to call.',
    remedy: 'Let all strings ring evenly; this one cost you nothing.',
  },
};

/** Names of chords as they are said aloud; `{root}` is a note by name. */
export const CHORD_SPOKEN: Readonly<Record<QualityId, string>> = {
  major: '{root} major',
  minor: '{root} minor',
  diminished: '{root} diminished',
  augmented: '{root} augmented',
  fifth: '{root} five',
  'suspended second': '{root} sus two',
  'suspended fourth': '{root} sus four',
  sixth: '{root} six',
  'minor sixth': '{root} minor six',
  'dominant seventh': '{root} seven',
  'major seventh': '{root} major seven',
  'minor seventh': '{root} minor seven',
  'minor major seventh': '{root} minor, major seven',
  'half-diminished': '{root} minor seven, flat five',
  'diminished seventh': '{root} diminished seven',
  'suspended seventh': '{root} seven, sus four',
  'added ninth': '{root} add nine',
  'dominant ninth': '{root} nine',
  'minor ninth': '{root} minor nine',
  'major ninth': '{root} major nine',
};

/** What no microphone can know; shown beside the verdicts. */
export const CHORD_MESSAGES = {
  'start.kind.chords': 'Chords',
  'chords.title': 'Chords',
  'chords.intro':
    'Chords from memory, one strum each: named one by one, or from a chart in time. For each you are told right, wrong or “can’t tell”.',
  'chords.how': 'How',
  'chords.how.named': 'Named one by one',
  'chords.how.named.help': 'A name appears; you strum the chord once and let it ring until the next.',
  'chords.how.progression': 'A progression in time',
  'chords.how.progression.help': 'A chart to look at, then one strum on the first beat of each bar.',
  'chords.families': 'Shapes',
  'chords.family.open': 'Open chords',
  'chords.family.barre': 'Barre chords',
  'chords.family.power': 'Power chords',
  'chords.family.seventh': 'Sevenths',
  'chords.family.extended': 'Ninths, sixths and others',
  'chords.family.slash': 'Another bass note (D/F♯)',
  'chords.family.triad': 'Three strings',
  'chords.families.none': 'Choose at least one kind of shape.',
  'chords.key': 'Key',
  'chords.key.any': 'Any',
  'chords.key.major': '{tonic} major',
  'chords.key.minor': '{tonic} minor',
  'chords.list': 'Which',
  'chords.list.kinds': 'By kind of shape',
  'chords.list.none': 'This list is empty. Add a chord below.',
  'chords.list.chord': 'Chord, such as F#m7',
  'chords.list.shape': 'Shape, such as x32010 (empty: any)',
  'chords.list.add-kind': 'Add all of these',
  'chords.voicing': 'What counts',
  'chords.voicing.shape': 'This shape',
  'chords.voicing.shape.help': 'Its own notes, from its own lowest note up.',
  'chords.voicing.any': 'Any shape',
  'chords.voicing.any.help': 'All notes of the chord, anywhere on the neck.',
  'chords.count': 'How many',
  'chords.tempo': 'Tempo',
  'chords.over': 'Over',
  'chords.over.click': 'A click',
  'chords.over.band': 'Drums and bass',
  'chords.driven': 'I play with overdrive',
  'chords.driven.help': 'Overdrive hides missing notes: more will be “can’t tell”.',
  'chords.strict.help': 'Names only, at the tempo that is set.',
  'chords.relaxed.help': 'With the shapes shown, and slower if you like.',
  'chords.begin': 'Start',
  'chords.no-fit': 'No such chords in this key: allow more kinds of shape, or any key.',
  'chords.guitar-only': 'The shapes are for a guitar in standard tuning.',
  'chords.coming': '{count} chords, one every {sec} s. Strum each once and let it ring.',
  'chords.of': '{n} of {count}',
  'chords.next': 'Next: {chord}',
  'chords.chart': 'The chords, bar by bar',
  'chords.shape': '{chord}, frets from the lowest string: {frets}',
  'chords.unstruck': 'not played',
  'chords.open-string': 'open',
  'chords.spoken.bass': '{chord} over {bass}',
  'chords.voice.help': 'By a voice of this device; wait for it to end before you strum.',
  'chords.live': 'What was heard just now',
  'chords.marked': 'The chords that were asked for, and what was heard',
  'chords.verdict.yes': 'right',
  'chords.verdict.no': 'wrong',
  'chords.verdict.unsure': 'can’t tell',
  'chords.verdict.missed': 'not played',
  'chords.verdict.extra': 'one strum too many',
  'chords.missing': 'without {notes}',
  'chords.foreign': 'with {notes}',
  'chords.bass': '{note} as the lowest note',
  'chords.late': '{ms} ms late',
  'chords.early': '{ms} ms early',
  'opened.other': '{name}, for the {instrument}. What is asked is shown when you begin.',
  'homework.chords': 'Chord lists (as chosen under Chords)',
  'progress.chords': 'Chords',
  'progress.changes': 'Chord changes',
  'progress.chords.more': '{count} more',
  'progress.chords.row': '{name}: {percent} in 100 ({low} to {high}), {seen} played',
  'chords.limits':
    'Sound cannot tell which string or fret a note was played on, or whether one of two equal notes is missing. That is never held against you.',
} as const;
