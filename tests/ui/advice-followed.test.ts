import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ENGLISH } from '../../src/ui/messages/english/index.ts';

const TESTS = resolve(import.meta.dirname, '..');

/** A test that does what is said, and in which it comes true: its file and part of its title. */
type By = readonly [file: string, title: string];
/** Why no test can do it: it is said of hands, ears or another machine. */
interface NotBy {
  readonly not: string;
}

const TROUBLE = 'e2e/trouble.e2e.test.ts';
const SURVIVE = 'e2e/survive.e2e.test.ts';
const FOLLOWED = 'e2e/advice.e2e.test.ts';
const HEARD = 'ui/heard-advice.test.ts';
const DONE = 'ui/advice-done.test.ts';
const AGAIN = 'e2e/advice-again.e2e.test.ts';
const STORE = 'store/store.browser.test.ts';
const refusedFile: By = [FOLLOWED, 'about a file that is refused'];
const microphone: By = [FOLLOWED, 'about the microphone'];
const heard: By = [HEARD, 'what is said to do is done, and every note is heard'];
const over: By = ['dsp/bleed/hearOver.test.ts', 'refuses a silent student'];
const earcup: By = ['e2e/latency.e2e.test.ts', 'takes four notes with the click instead'];
const hands: NotBy = { not: 'of a body: when to rest is for the player to feel' };
const ready: By = ['e2e/reading.e2e.test.ts', 'without a click finds the take wherever it begins'];
const way: By = ['e2e/main-job.e2e.test.ts', 'goes from first load through the sound check'];
const desk: By = ['e2e/practice.e2e.test.ts', 'carry a lesson by keyboard alone'];
const machine: NotBy = { not: 'of another browser or device than the one the tests run in' };
const fetched: By = [AGAIN, 'about what could not be fetched'];
const full: By = [AGAIN, 'about lists that are full'];
const deleted: By = [AGAIN, 'about what was deleted'];
const cannot: By = [AGAIN, 'about chords, homework and scales that cannot be'];
const pulled: By = [AGAIN, 'about a microphone that was pulled'];
const chord: By = [DONE, 'a chord that could not be told: what is said to do is done'];
const room: By = [DONE, 'what hums is turned off'];
const unsaved: By = [TROUBLE, 'a record that never opens'];

const PIECES = 'e2e/pieces.e2e.test.ts';
const unread: By = [PIECES, 'says in a sentence what it cannot read'];
const balance: By = [PIECES, 'shows the balance of the first line'];
const found: By = [PIECES, 'finds bar 1 and the tempo'];

const STUDIO = 'e2e/studio.e2e.test.ts';
const joined: By = [STUDIO, 'homework appears on the student’s phone'];
const left: By = [STUDIO, 'removes a phone'];
const SITTING = 'e2e/sitting.e2e.test.ts';
const sat: By = [SITTING, 'goes through every station by keyboard alone'];
const planned: By = [SITTING, 'is put together from a level and leads to a plan'];

/** Every text of the catalogue that says what to do, and the test that follows it. */
const TABLE: Readonly<Record<string, By | NotBy>> = {
  'texts.studio.none': joined,
  'texts.studio.join.again': left,
  'texts.studio.join.broken': joined,
  'texts.studio.invite.open': joined,
  'texts.studio.leave.sure': left,
  'texts.studio.sheet.why': ['studio/flow.test.ts', 'gets in again by the recovery sheet'],
  'texts.chords.list.none': [FOLLOWED, 'about a list of chords that is empty'],
  'texts.sitting.new.help': planned,
  'texts.sitting.gone': planned,
  'texts.sitting.say.sound': sat,
  'texts.sitting.say.melody': way,
  'texts.sitting.say.rhythm': ['e2e/question.e2e.test.ts', 'as in an exam a wrong choice is never'],
  'texts.sitting.missing': [
    'ui/sitting-desk.test.ts',
    'begins nothing where the recording of a piece is not here',
  ],
  'texts.sitting.fault.piece': [
    'tests-engine/sitting/sitting.test.ts',
    'plays the piece again that a fault broke off',
  ],
  'texts.plan.none': planned,
  'texts.plan.past': planned,
  'texts.plan.no-days': planned,
  'texts.piece.intro': found,
  'texts.piece.tap.help': found,
  'texts.piece.check.help': balance,
  'texts.piece.check.running': balance,
  'texts.piece.balance.backing-loud': balance,
  'texts.piece.balance.you-loud': balance,
  'texts.piece.balance.silent': ['ui/pieces/taps.test.ts', 'says when nobody plays'],
  'texts.piece.gone': { not: 'of a file that only its owner has' },
  'texts.piece.not-sound': unread,
  'texts.piece.too-short': unread,
  'texts.piece.too-long': { not: 'no test brings a quarter of an hour of sound' },
  'texts.rubric.wrong': ['ui/review/rubric.test.ts', 'takes numbers from 0 to 10'],
  'storeProblems.quota': [SURVIVE, 'a full disk'],
  'storeProblems.disk': [SURVIVE, 'a full disk'],
  'storeProblems.closed': [TROUBLE, 'the record deleted in a take'],
  'storeProblems.evicted': [TROUBLE, 'a record that the browser removed is told once with the way back'],
  'storeProblems.unavailable': [TROUBLE, 'blocked storage'],
  'storeProblems.slow': unsaved,
  'storeProblems.missing': [TROUBLE, 'a student deleted in another tab during their test'],
  'importProblems.not-ours': refusedFile,
  'importProblems.truncated': refusedFile,
  'importProblems.corrupt': refusedFile,
  'importProblems.invalid': refusedFile,
  'importProblems.too-big': refusedFile,
  'importProblems.wrong-kind': refusedFile,
  'importProblems.unknown-homework': refusedFile,
  'audioProblems.permission-refused': microphone,
  'audioProblems.no-microphone': microphone,
  'audioProblems.microphone-busy': microphone,
  'audioProblems.no-audio-worklet': machine,
  'audioProblems.insecure-context': machine,
  'audioProblems.context-suspended': {
    not: 'the test browser never suspends its sound: a flag allows it always',
  },
  'audioProblems.processing-not-off': machine,
  'audioProblems.headset': machine,
  'audioProblems.narrow-band': machine,
  'notMarked.silence': heard,
  'notMarked.too-quiet': heard,
  'notMarked.clipped': heard,
  'notMarked.no-stream': heard,
  'notMarked.not-an-instrument': heard,
  'notMarked.backing-only': over,
  'notMarked.backing-too-loud': ['dsp/bleed/hearOver.test.ts', 'changes nothing with headphones'],
  'notMarked.unclear': { not: 'of how strings are let ring; what is unclear is judged in bench:ears' },
  'notMarked.no-target': { not: 'no test of the app is without notes: the schema refuses it' },
  'notMarked.nothing-played': [
    'e2e/main-job.e2e.test.ts',
    'does not mark silence, and says so with a remedy',
  ],
  'notMarked.described': { not: 'it asks for reading and talking' },
  'notMarked.for-teacher': { not: 'it asks for reading' },
  'texts.phrases.file.slow': [FOLLOWED, 'about a file of another program that costs too much'],
  'texts.phrases.code.none': [
    'ui/own-phrases.test.ts',
    'a whole link, what stands after its #, and a short code',
  ],
  'texts.phrases.notKept': ['e2e/own-phrases.e2e.test.ts', 'leaves as MusicXML, MIDI and WAV'],
  'texts.record.evicted.remedy': [
    TROUBLE,
    'a record that the browser removed is told once with the way back',
  ],
  'texts.record.not-saved.remedy': [SURVIVE, 'a full disk'],
  'texts.unsaved.keep-open': unsaved,
  'texts.unsaved.filed': [TROUBLE, 'the record deleted in a take'],
  'texts.doubt.confirm': ['store/trust.browser.test.ts', 'until the teacher gives a mark'],
  'texts.results.differ': ['store/trust.browser.test.ts', 'that reuse an id are said to differ'],
  'texts.latency.cup.text': earcup,
  'texts.latency.cup.failed.remedy': earcup,
  'texts.latency.notes.failed.remedy': earcup,
  'texts.over.text': ['e2e/latency.e2e.test.ts', 'comes from the backing over loudspeakers'],
  'texts.over.refused.backing-only.remedy': over,
  'texts.over.refused.remedy': ['dsp/bleed/hearOver.test.ts', 'changes nothing with headphones'],
  'texts.check.caution.level': hands,
  'texts.check.caution.hands': hands,
  'texts.question.confirm': ['e2e/main-job.e2e.test.ts', 'marks a right rhythm 95 or more'],
  'texts.levels.intro': ['e2e/phrases.e2e.test.ts', 'a level is changed, refused with a sentence'],
  'texts.play.intro': ['e2e/phrases.e2e.test.ts', 'a phrase played to the click is written down'],
  'texts.edit.moved.down': ['ui/own-phrases.test.ts', 'is moved as a whole, and says so'],
  'texts.edit.moved.up': ['ui/own-phrases.test.ts', 'is moved as a whole, and says so'],
  'texts.edit.keys': ['e2e/phrases.e2e.test.ts', 'a phrase from a file is corrected by keys'],
  'texts.teacher.empty': desk,
  'texts.attempt.pick': ['e2e/marked-page.e2e.test.ts', 'changes a verdict by a press on one'],
  'texts.blind.who': desk,
  'texts.homework.none': ['e2e/lesson.e2e.test.ts', 'brings a fresh phone from the link of homework'],
  'texts.homework.send.help': ['e2e/homework.e2e.test.ts', 'comes back by file and by link'],
  'texts.start.kind.melody.help': way,
  'texts.reading.click.without.help': ready,
  'texts.step.ready.help': ready,
  'texts.step.read.help': ['e2e/reading.e2e.test.ts', 'turns the page up for the preparation and not before'],
  'texts.step.chart.help': ['e2e/improvising.e2e.test.ts', 'shows the chart for the preparation'],
  'texts.scales.click.without.help': ['e2e/scales.e2e.test.ts', 'without a click tells one wrong note'],
  'texts.start.kind.rhythm.help': ['e2e/main-job.e2e.test.ts', 'marks a right rhythm 95 or more'],
  'texts.play.nothing.remedy': ['e2e/phrases.e2e.test.ts', 'a phrase played to the click is written down'],
  'texts.check.output.headphones.help': hands,
  'texts.error.remedy': fetched,
  'texts.licences.failed': fetched,
  'texts.settings.language.failed': fetched,
  'texts.score.failed': [AGAIN, 'about notation that could not be drawn'],
  'audioProblems.assets-missing': [AGAIN, 'about sounds that could not be fetched'],
  'audioProblems.microphone-unplugged': pulled,
  'texts.test.void.remedy': pulled,
  'texts.phrases.full': full,
  'texts.levels.full': full,
  'texts.scales.list.full': full,
  'texts.student.delete.sure': deleted,
  'texts.attempt.delete.sure': deleted,
  'texts.data.keep.may-go': [SURVIVE, 'a full disk'],
  'texts.data.delete.sure': deleted,
  'texts.chords.voice.help': ['e2e/chords.e2e.test.ts', 'says each name, and with help what the stroke was'],
  'texts.chords.families.none': cannot,
  'texts.chords.no-fit': cannot,
  'texts.homework.too-many': cannot,
  'texts.student.homework.help': cannot,
  'texts.scales.none': cannot,
  'texts.blind.none': cannot,
  'texts.drill.impossible': [DONE, 'no choice of a drill’s form is impossible'],
  'texts.student.homework.long': [DONE, 'homework too long for a QR code opens'],
  'texts.edit.doubtful': [DONE, 'a note with a question mark that was looked at'],
  'texts.edit.key.wrong': [DONE, 'each key that would need more than seven accidentals'],
  'texts.check.noise.some': room,
  'texts.check.noise.loud': room,
  'texts.over.caution.remedy': [DONE, 'a backing that is nearly too loud'],
  'chordDoubts.out-of-tune': chord,
  'chordDoubts.too-short': chord,
  'chordDoubts.too-quiet': chord,
  'chordDoubts.not-a-chord': chord,
  'chordDoubts.close': chord,
  'importProblems.newer-version': refusedFile,
  'storeProblems.newer-version': [STORE, 'refuses a record of a newer app'],
  'storeProblems.failed': [STORE, 'that failed once is tried again and is written'],
  'storeProblems.blocked': [STORE, 'once that one is closed it opens'],
  'texts.unsaved.never': [
    'ui/record/unsaved.test.ts',
    'that never fit the record are in a file of their own',
  ],
};

const VERBS =
  'add|allow|ask|bring|check|choose|close|compare|connect|copy|delete|export|free|give|keep|leave|let|load|look|mend|move|mute|open|play|plug|press|put|reload|restart|restore|save|select|send|start|take|try|turn|type|update|use|wait|write';
const IMPERATIVE = new RegExp(`(^|[.:;,] |then )(${VERBS})\\b`, 'i');

/** All that tells what to do: remedies of what stands in the way, and sentences that begin with a verb. */
function advices(): string[] {
  return Object.entries(ENGLISH as unknown as Record<string, Record<string, unknown>>).flatMap(
    ([table, texts]) =>
      Object.entries(texts).flatMap(([key, value]) => {
        if (typeof value === 'object' && value !== null && 'remedy' in value) return [`${table}.${key}`];
        const isSentence = table === 'texts' && typeof value === 'string' && value.endsWith('.');
        return isSentence && IMPERATIVE.test(value) ? [`${table}.${key}`] : [];
      }),
  );
}

describe('every advice in the catalogue', () => {
  it('is followed by a test, or says why none can', () => {
    const left = advices().filter((key) => !(key in TABLE));
    expect(left).toEqual([]);
  });
  it('is there: no line of the table is of a text that is gone', () => {
    const known = new Set(
      Object.entries(ENGLISH).flatMap(([table, texts]) => Object.keys(texts).map((key) => `${table}.${key}`)),
    );
    expect(Object.keys(TABLE).filter((key) => !known.has(key))).toEqual([]);
  });
  it.each(Object.entries(TABLE).filter((entry): entry is [string, By] => Array.isArray(entry[1])))(
    '%s is followed by a test that is there',
    (_, [file, title]) => {
      const path = resolve(TESTS, file);
      expect(existsSync(path), path).toBe(true);
      expect(readFileSync(path, 'utf8')).toContain(title);
    },
  );
});
