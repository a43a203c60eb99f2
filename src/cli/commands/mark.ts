import {
  handlerOf,
  markTake,
  markTask,
  ofNotes,
  parseNoteList,
  parsePairLine,
  takeOf,
  takenChords,
  type AnyMark,
  type Mark,
} from '../../tests-engine/index.ts';
import type { ChordTest } from '../../music/chords/index.ts';
import type { Task } from '../../music/task.ts';
import { notTooDeep, readAnyTest, readJsonFile } from '../files.ts';
import { given, UsageError, type Io } from '../io.ts';
import { listenTo } from '../listen.ts';
import { Options } from '../options.ts';
import { chordMarkTable, markTable, toldTable } from '../tables.ts';
import { hearChordFile, markChordFile } from './markChordFile.ts';

/** `mark`: a take against a test, a note list against a note list, or many pairs of lists. */
export async function mark(args: readonly string[], io: Io): Promise<void> {
  const options = new Options(args, {
    test: 'value',
    take: 'value',
    start: 'value',
    backing: 'value',
    from: 'value',
    target: 'value',
    played: 'value',
    clock: 'value',
    transposition: 'value',
    pairs: 'value',
    json: 'flag',
  });
  options.exactly();
  const ways = ['test', 'target', 'pairs'].filter((name) => options.text(name) !== null);
  if (ways.length !== 1)
    throw new UsageError('give one of --test with --take, --target with --played, or --pairs -');
  const [way] = ways as ['test' | 'target' | 'pairs'];
  refuseStrangers(options, way);
  if (way === 'pairs') return markPairs(options, io);
  if (way === 'test') {
    const path = options.required('test');
    const test = await readAnyTest(path);
    const told = await (isChordTest(test) ? chordsOf(options, test) : notesOf(options, test, io));
    return io.out(options.flag('json') ? `${JSON.stringify(told.mark)}\n` : told.table);
  }
  const result = await markLists(options);
  io.out(options.flag('json') ? `${JSON.stringify(result)}\n` : markTable(result));
}

async function notesOf(options: Options, test: Task, io: Io) {
  const mark = await markFile(options, test, io);
  const notes = ofNotes(mark);
  return { mark, table: notes ? markTable(notes) : toldTable(mark) };
}
async function chordsOf(options: Options, test: ChordTest) {
  const mark = await markChordFile(options, test);
  return { mark, table: chordMarkTable(mark, test) };
}
/** A list of chords has no phrase. */
const isChordTest = (test: Task | ChordTest): test is ChordTest => !('phrase' in test);

/** Options that mean nothing in this way of marking are refused, not dropped. */
function refuseStrangers(options: Options, way: 'test' | 'target' | 'pairs'): void {
  const own = {
    test: ['test', 'take', 'start', 'backing', 'from'],
    target: ['target', 'played', 'clock', 'transposition'],
    pairs: ['pairs'],
  }[way];
  for (const name of ['take', 'start', 'backing', 'from', 'played', 'clock', 'transposition'])
    if (options.text(name) !== null && !own.includes(name))
      throw new UsageError(`--${name} does not go with --${way}`);
}

async function markFile(options: Options, test: Task, io: Io): Promise<AnyMark> {
  const { chords, span } = handlerOf(test);
  const asked = chords?.(test);
  if (asked) {
    const heard = takenChords(await hearChordFile(options, test, asked));
    return markTask(test, takeOf(heard, { beatOneSec: 0, latencySec: 0 }, span(test)));
  }
  const zeroSec = options.number('start', -3600, 3600, 0);
  const path = options.text('backing');
  if (path === null && options.text('from') !== null)
    throw new UsageError(
      '--from goes with --backing: it says from which second on notes are wanted; give --backing too, or leave it out',
    );
  // The take is listened to from the beat before its first, since a student may come in early; what lies
  // before that is only learnt from.
  const fromSec = options.number('from', 0, 3600, Math.max(0, zeroSec - 60 / test.tempoBpm));
  const backing = path === null ? null : { path, fromSec };
  const take = await listenTo(options.required('take'), test, backing, io.progress);
  // --start is beat 1 as it was sent out. The player heard it later by what the backing itself came later:
  // a note on the beat that is heard in the recording is on time.
  const latencySec = (take.heard.delayMs ?? 0) / 1000;
  const own = takeOf(take, { beatOneSec: zeroSec, latencySec }, span(test));
  return markTask(test, own);
}

async function markLists(options: Options): Promise<Mark> {
  const read = async (name: 'target' | 'played') => {
    const path = options.required(name);
    const json = await readJsonFile(path);
    return given(path, () => parseNoteList(json, name));
  };
  const clock = options.choice('clock', ['backing', 'free'], 'backing');
  const transposition = options.choice('transposition', ['none', 'octave', 'any'], 'none');
  const target = await read('target');
  const played = await read('played');
  return markTake({ target, played, clock, transposition });
}

async function markPairs(options: Options, io: Io): Promise<void> {
  if (options.required('pairs') !== '-')
    throw new UsageError('--pairs reads standard input only: write --pairs -');
  let number = 0;
  for await (const line of io.inputLines()) {
    number++;
    if (line.trim() === '') continue;
    const { id, ...request } = given(`line ${number}`, () => parsePairLine(notTooDeep(line)));
    const { mark: points, reason, range, outcome } = markTake(request);
    io.out(`${JSON.stringify({ id, mark: points, reason, range, outcome })}\n`);
  }
}
