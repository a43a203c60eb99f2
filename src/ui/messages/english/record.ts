import type { Doubt } from '../../../store/index.ts';

/** What is read where something could not be kept, or cannot be trusted. */
export const RECORD_MESSAGES = {
  'unsaved.keep-open': 'Keep this page open and try again, or save what is here to a file.',
  'unsaved.never': {
    by: 'count',
    one: 'This take does not fit the record. Save it to a file if you want to keep it.',
    other: '{count} takes do not fit the record. Save them to a file if you want to keep them.',
  },
  'unsaved.file': 'Save to a file',
  'unsaved.filed':
    'The takes are in the file. Once the record works again, restore the file on the data page: what is there already is not added twice.',
  'unsaved.filed.never': 'The takes are in the file, to be looked at. It cannot be restored.',
  'unsaved.whose': 'The student of this take is not here any more. Whose is it?',
  'unsaved.whose.new': 'A new student',
  'kept.not': 'This take is not kept.',
  'doubt.not-set': 'Not counted: this test was not set in that homework.',
  'doubt.other-mark': 'Not counted: from the notes in the file the mark is {again}, the file says {said}.',
  'doubt.short': 'not counted',
  'doubt.confirm': 'To count it all the same, give it a mark of your own.',
  'attempt.broken': 'The notes of this test cannot be drawn. Its mark and your remarks are kept.',
  'advice.unknown': 'This advice comes from a newer Twobar: {code}',
  'results.differ': {
    by: 'count',
    one: 'One of them carries the number of a test that is here already and differs from it. It was not added; compare them on the data page.',
    other:
      '{count} of them carry the number of a test that is here already and differ from it. They were not added; compare them on the data page.',
  },
  'results.doubted': {
    by: 'count',
    one: 'One is shown but not counted; it says why.',
    other: '{count} are shown but not counted; each says why.',
  },
  'results.heard': {
    by: 'count',
    one: 'One came with its sound.',
    other: '{count} came with their sound.',
  },
  'conflict.students': 'Student',
  'conflict.attempts': 'Test',
  'conflict.overrides': 'Teacher’s mark',
  'conflict.lessonNotes': 'Note',
  'conflict.homework': 'Homework',
  'conflict.blindMarks': 'Blind mark',
  'conflict.settings': 'Setting',
  'conflict.here': 'Here: {what}',
  'conflict.file': 'In the file: {what}',
  'conflict.results': 'In the results that were sent: {what}',
  'conflict.gone': 'deleted meanwhile',
  'conflict.mark': 'mark {mark}',
  'conflict.tests': '{count} tests',
  'given.title': 'A file for Twobar',
  'given.backup':
    '“{name}” is a backup. Its students and takes are added to what is here; nothing that is here changes.',
  'given.restore': 'Add them',
  'given.leave': 'Leave it',
  'given.unknown': '“{name}” is no file that Twobar opens.',
  'given.no-link': 'There is no link of Twobar in what was shared.',
  'given.nothing': 'Nothing has been shared.',
  'given.opens':
    'It opens its own backups and results, music (MusicXML, MIDI), recordings to play along with, and links to homework, results and tests.',
  'given.again': 'Share it once more, or choose the file on the page where it belongs.',
  'typed.back': 'This was typed earlier and not saved.',
} as const;

export const DOUBTS: Readonly<Record<Doubt, 'doubt.not-set' | 'doubt.other-mark'>> = {
  'not-set': 'doubt.not-set',
  'other-mark': 'doubt.other-mark',
};
