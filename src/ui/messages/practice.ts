import type { ImportProblemCode, StoreProblemCode } from '../../store/index.ts';
import type { PartId, WhyCode } from '../../tests-engine/index.ts';

/** What is read on the pages of practice, progress, teacher and data. */
export const PRACTICE_MESSAGES = {
  'nav.data': 'Data',
  'record.me': 'Me',
  'record.lost':
    'A take was in progress when Twobar was closed last time, and is lost: {tests}. Everything before it is kept.',
  'record.lost.ok': 'Understood',
  'record.evicted': 'The browser has removed the record that was here.',
  'record.evicted.remedy':
    'Restore your last backup on the data page. Ask the browser to keep the record there too.',
  'record.not-saved': 'This take is not in the record.',
  'record.saved': 'In the record of {name}',
  'record.for': 'Playing as {name}',

  'practice.title': 'Today’s practice',
  'practice.intro':
    'One melody and one rhythm, chosen from how your tests went. About four of five should end there.',
  'practice.begin': 'Begin',
  'practice.free': 'Choose freely',
  'practice.expect': 'About {percent} of 100 such tests would end there.',
  'why.first': 'Nothing is known yet, so this is simply a test of the level you chose.',
  'why.weak-part':
    'It brings back {part}: they come off {partPercent} times of 100 for you, and they were due after {intervalTests}.',
  'why.interval': '{tests} tests',
  'why.interval.one': 'one test',
  'why.level-up': 'The last level has become easy for you, so this is one level more.',
  'why.level-down': 'The last level is a little too hard as yet, so this is one level less.',
  'why.about-right': 'Nothing needs bringing back just now; this is about as hard as does most good.',

  'progress.title': 'Progress',
  'progress.empty': 'Nothing to show yet. After a few tests this page shows how they went.',
  'progress.manner': 'Manner',
  'progress.marks': 'Marks',
  'progress.series': '{kind}, level {level}',
  'progress.series.own': '{kind}, own phrases',
  'progress.timing': 'Timing',
  'progress.bias': 'Late (+) or early (−), ms',
  'progress.uneven': 'Unevenness, ms',
  'progress.caption':
    '{count} tests. {direction} The last one {last}; the level behind the ups and downs is now {level}, between {low} and {high}.',
  'progress.direction.rising': 'Rising.',
  'progress.direction.falling': 'Falling.',
  'progress.direction.steady': 'Steady, as far as can be told.',
  'progress.direction.too-few': 'Too few to see a direction.',
  'progress.table': 'As a table',
  'progress.table.when': 'When',
  'progress.table.value': 'Value',
  'progress.table.level': 'Level behind it',
  'progress.parts': 'What comes off, and what does not yet',
  'progress.parts.pitch': 'Finding the note',
  'progress.parts.time': 'Playing in time',
  'progress.parts.help':
    'Each line is one small thing. The dot is how often it comes off for you; the bar is how sure that is: long means not known yet.',
  'progress.parts.caption': '{part}: about {percent} of 100, between {low} and {high}, from {seen} notes',
  'progress.parts.seen': '{seen} notes',
  'progress.parts.unseen': 'Not met yet: {parts}.',

  'teacher.title': 'Teacher’s desk',
  'teacher.week': 'The last seven days',
  'teacher.name': 'Name',
  'teacher.tests': 'Tests',
  'teacher.tests.value': '{tests}, {there} there',
  'teacher.mark': 'Middle mark',
  'teacher.mark.before': '{mark} (four weeks before: {before})',
  'teacher.trouble': 'Trouble with',
  'teacher.trouble.none': 'nothing that stands out',
  'teacher.last': 'Last practised',
  'teacher.never': 'not yet',
  'teacher.run': 'Run a test',
  'teacher.add': 'Add a student',
  'teacher.add.name': 'Name or initials',
  'teacher.add.go': 'Add',
  'teacher.blind': 'Mark takes blind',
  'teacher.results': 'Add homework results from a file',
  'teacher.results.added': '{added} new attempts were added for {name}; {same} were here already.',
  'teacher.results.who': 'This homework was not set on this machine. Whose is it?',
  'student.back': 'All students',
  'student.attempts': 'Tests',
  'student.attempts.none': 'No test yet.',
  'student.more': 'Earlier tests',
  'student.progress': 'Progress',
  'student.notes': 'Lesson notes',
  'student.notes.new': 'New note',
  'student.notes.add': 'Keep the note',
  'student.remove.note': 'Remove',
  'student.homework': 'Homework',
  'student.homework.help':
    'Choose tests of this student to be done again at home, or a fresh set at a level.',
  'student.homework.kind': 'Kind',
  'student.homework.level': 'Level',
  'student.homework.count': 'How many tests',
  'student.homework.set': 'Make a link',
  'student.homework.of': '{count} tests, set {when}',
  'student.homework.done': '{done} attempts back',
  'student.homework.copy': 'Copy the link',
  'student.homework.copied': 'Copied',
  'student.homework.qr': 'QR code of the homework link',
  'student.homework.long': 'The link is too long for a QR code; send it as text.',
  'student.sheet': 'Lesson sheet for printing',
  'student.delete': 'Delete this student',
  'student.delete.sure':
    'Delete {name} with all tests, remarks, notes, homework and sound? Files exported earlier remain where they are.',
  'student.delete.yes': 'Delete for good',
  'student.delete.no': 'Keep',
  'attempt.machine': 'Machine’s mark: {mark}',
  'attempt.newer': 'The present rule (version {version}) would give {mark}.',
  'attempt.teacher': 'Your mark',
  'attempt.remark': 'Remark',
  'attempt.save': 'Keep mark and remark',
  'attempt.saved': 'Kept. The machine’s mark stays beside it.',
  'attempt.history': 'Earlier: {mark}, {when}. {remark}',
  'attempt.verdict': 'Verdict on note {note}',
  'attempt.verdicts': 'Change a verdict',
  'attempt.unmarked': 'not marked',
  'attempt.hear': 'Hear the take',
  'attempt.silent': 'The sound of this take was not saved.',

  'blind.title': 'Mark takes blind',
  'blind.intro':
    'Hear the take and give it 0 to 100 before you see the machine’s mark. This gathers what is still missing: how well the marks agree with teachers over a backing.',
  'blind.rater': 'Your initials',
  'blind.value': 'Your mark, 0 to 100',
  'blind.give': 'Give this mark',
  'blind.none':
    'There is no take with saved sound left to mark. Turn saving on in the data page and run some tests.',
  'blind.export': 'Save the marks as a table',
  'blind.given': 'You gave {value}, the machine {mark}.',
  'blind.left': '{left} takes left',

  'sheet.title': 'Lesson sheet',
  'sheet.print': 'Print',
  'sheet.date': '{name}, {date}',
  'sheet.how-many': 'Tests on the sheet',

  'homework.title': 'Homework',
  'homework.intro': '{count} tests from your teacher, to be played in the {manner} manner.',
  'homework.test': 'Test {number}',
  'homework.done': 'played {times} times',
  'homework.todo': 'not played yet',
  'homework.begin': 'Begin test {number}',
  'homework.send': 'Send the results back',
  'homework.send.help':
    'The results hold your takes as notes and marks, no sound and no name. Give the file or the link to your teacher.',
  'homework.file': 'Save results as a file',
  'homework.link': 'Copy a link with the results',
  'homework.none': 'No homework is open.',

  'data.title': 'Data',
  'data.intro': 'Everything is kept in this browser on this machine, and nowhere else.',
  'data.backup': 'Backup',
  'data.backup.never': 'No backup has been saved yet.',
  'data.backup.age': 'The last backup is {days} days old.',
  'data.backup.today': 'The last backup is from today.',
  'data.backup.since': '{count} tests are in no backup.',
  'data.backup.due': 'A backup of the record is due',
  'data.export': 'Save everything to one file',
  'data.restore': 'Restore or add from a file',
  'data.restored':
    '{attempts} tests of {students} new students were added; {same} records were here already, {conflicts} differ and wait below.',
  'data.conflicts': 'Records that differ',
  'data.conflict': '{what} differs from the file.',
  'data.conflict.ours': 'Keep this machine’s',
  'data.conflict.theirs': 'Take the file’s',
  'data.csv': 'Save the tests as a table (CSV)',
  'data.sound': 'Sound of takes',
  'data.sound.save': 'Keep the sound of takes',
  'data.sound.off': 'No: it leaves memory with the result',
  'data.sound.on': 'Yes, up to a limit; the oldest goes first',
  'data.sound.limit': 'Limit, megabytes',
  'data.sound.use': '{takes} takes use {mb} of {limit} MB.',
  'data.sound.help': 'A smaller copy for listening is kept. It never changes a mark.',
  'data.keep': 'Keep the record safe',
  'data.keep.kept': 'The browser has promised to keep the record.',
  'data.keep.may-go':
    'The browser may remove the record when the disk is full or after weeks without a visit.',
  'data.keep.unknown': 'This browser does not say whether it keeps the record.',
  'data.keep.ask': 'Ask the browser to keep it',
  'data.keep.use': '{used} MB of {quota} MB are used.',
  'data.delete': 'Delete everything here',
  'data.delete.sure':
    'Delete all students, tests, notes and sound in this browser? Files exported earlier remain where they are.',
} as const;

/** The small parts as a student would say them, in the plural: "rising thirds". */
export const PART_WORDS: Readonly<Record<PartId, string>> = {
  repeat: 'repeated notes',
  'step-up': 'steps up',
  'step-down': 'steps down',
  'third-up': 'thirds up',
  'third-down': 'thirds down',
  'fourth-up': 'fourths up',
  'fourth-down': 'fourths down',
  'fifth-up': 'fifths up',
  'fifth-down': 'fifths down',
  'wide-up': 'wide leaps up',
  'wide-down': 'wide leaps down',
  'degree-1': 'home notes (degree 1)',
  'degree-2': 'notes on degree 2',
  'degree-3': 'notes on degree 3',
  'degree-4': 'notes on degree 4',
  'degree-5': 'notes on degree 5',
  'degree-6': 'notes on degree 6',
  'degree-7': 'notes on degree 7',
  chromatic: 'notes outside the scale',
  turn: 'turns after a leap',
  opening: 'first notes of a phrase',
  ending: 'last notes of a phrase',
  'on-beat': 'notes on the beat',
  'off-beat': 'notes off the beat',
  'quarter-beat': 'notes on a semiquaver off the beat',
  triplet: 'triplet notes',
  'crotchet-gap': 'notes a beat or more apart',
  'quaver-gap': 'notes half a beat apart',
  'short-gap': 'quick notes',
  'after-rest': 'notes after a rest',
  'after-dot': 'notes after a dotted one',
  'over-beat': 'notes after one held over the beat',
  slow: 'notes at slow tempos',
  medium: 'notes at medium tempos',
  fast: 'notes at fast tempos',
  'first-bar': 'notes of the first bar',
  'later-bars': 'notes of later bars',
  compound: 'notes in beats of three',
  'odd-metre': 'notes in odd metres',
};

export type WhyMessage = `why.${WhyCode}`;

interface Explained {
  readonly text: string;
  readonly remedy: string;
}

/** What can stand in the way of keeping the record. */
export const STORE_PROBLEMS: Readonly<Record<StoreProblemCode, Explained>> = {
  quota: {
    text: 'The disk, or the browser’s share of it, is full.',
    remedy:
      'Save a backup, then free space or lower the limit for sound on the data page. Earlier tests are safe.',
  },
  blocked: {
    text: 'Another tab has an older Twobar open.',
    remedy: 'Close the other tabs of Twobar, then load this page again.',
  },
  closed: {
    text: 'The record was closed by another tab or by the browser.',
    remedy: 'Load this page again. What was written before is safe.',
  },
  evicted: {
    text: 'The browser has removed the record that was here.',
    remedy: 'Restore your last backup on the data page.',
  },
  unavailable: {
    text: 'This browser keeps nothing here, as in a private window.',
    remedy: 'Open Twobar in a usual window to keep a record. Tests work without one.',
  },
  'newer-version': {
    text: 'The record was written by a newer Twobar.',
    remedy: 'Load the page again while you are online, so that Twobar is updated. Nothing was changed.',
  },
  missing: {
    text: 'That record is not here any more.',
    remedy: 'It may have been deleted in another tab. Go back and choose again.',
  },
  failed: {
    text: 'The record could not be read or written.',
    remedy: 'Load the page again. If it happens again, save a backup if you can and restart the browser.',
  },
};

/** Why a file or link was refused; nothing has been changed. */
export const IMPORT_PROBLEMS: Readonly<Record<ImportProblemCode, Explained>> = {
  'not-ours': {
    text: 'This is not a file of Twobar.',
    remedy: 'Choose the file that Twobar saved. Nothing was changed.',
  },
  truncated: {
    text: 'The file or link is cut off.',
    remedy: 'Copy or download it again, whole. Nothing was changed.',
  },
  corrupt: { text: 'The file or link is damaged.', remedy: 'Use another copy of it. Nothing was changed.' },
  'newer-version': {
    text: 'It was made by a newer Twobar.',
    remedy: 'Update Twobar here first. Nothing was changed.',
  },
  invalid: { text: 'It holds what no test can be.', remedy: 'Use another copy of it. Nothing was changed.' },
  'too-big': {
    text: 'It is far larger than any record.',
    remedy: 'Choose another file. Nothing was changed.',
  },
  'wrong-kind': {
    text: 'It is a file of Twobar, but of another kind.',
    remedy:
      'Backups are restored on the data page, homework results at the teacher’s desk. Nothing was changed.',
  },
  'unknown-homework': {
    text: 'This homework was not set on this machine.',
    remedy: 'Choose the student whose results these are. Nothing was changed.',
  },
};
