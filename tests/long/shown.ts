import { listCode, testToMidi, testToMusicXml, wholeCode } from '../../src/exchange/index.ts';
import { checkedThresholds } from '../../src/music/schema/index.ts';
import { improvised, namedScale, written, type Task } from '../../src/music/task.ts';
import type { CueSheet, PracticeTest } from '../../src/music/score.ts';
import { notate, writtenAccidentals, fifthsOf } from '../../src/notation/index.ts';
import { attemptsCsv, blindMarksCsv } from '../../src/store/csv.ts';
import { byAttempt, effectiveMark } from '../../src/store/effective.ts';
import type { Attempt, Records } from '../../src/store/index.ts';
import {
  backingSheet,
  chordList,
  compareWithEarlier,
  earTest,
  chartOf,
  factsOfScale,
  handlerOf,
  improvisedFacts,
  hearingSheet,
  ofNotes,
  performanceSheet,
  phraseSheet,
  practised,
  readStanding,
  scaleList,
  shortCode,
} from '../../src/tests-engine/index.ts';
import { adviceText } from '../../src/ui/advice.ts';
import { NOT_MARKED } from '../../src/ui/messages.ts';
import { keyName } from '../../src/ui/names.ts';
import { scaleName, scaleTerms, tempoText } from '../../src/ui/scaleName.ts';
import { chordRows } from '../../src/ui/tasks/chordRows.ts';
import { writtenAs } from '../../src/ui/tasks/writtenAs.ts';
import { taskAbout, taskName } from '../../src/ui/taskWords.ts';
import { factText, toldText } from '../../src/ui/told.ts';
import { printed } from '../../src/ui/chordSymbol.ts';
import { chartBars } from '../../src/ui/chartBars.ts';
import { pieceOf, rivalPieces } from '../../src/ui/piece.ts';
import { checkedAgain } from '../../src/ui/record/again.ts';
import { dateText } from '../../src/ui/record/save.ts';
import { doubt } from '../../src/ui/record/doubt.ts';
import { markAgain } from '../../src/ui/record/remark.ts';
import { sideWords } from '../../src/ui/record/words.ts';
import { biasOf } from '../../src/ui/result/bias.ts';
import { itemsOf } from '../../src/ui/result/items.ts';
import { onStrip, signed } from '../../src/ui/result/strip.ts';
import { aboutOpened, aboutPhrase } from '../../src/ui/screens/phrases/words.ts';
import type { Json } from '../store/support/backup.ts';
import { sheetsOf } from './samples.ts';

/** Nothing that is read on a page may be one of these. */
const UNREADABLE = /undefined|NaN|\[object|Infinity/;
function read(...texts: readonly (string | null | undefined)[]): void {
  for (const text of texts) if (text && UNREADABLE.test(text)) throw new Error(`unreadable: ${text}`);
}

/** What a page that engraves asks of a phrase, and what a list says of a task. */
function engraved(task: Task): void {
  read(taskName(task), taskAbout(task));
  const notes = written(task);
  if (!notes) return;
  const bars = notate(notes.phrase);
  if (bars.length !== notes.phrase.bars) throw new Error(`${bars.length} bars written`);
  writtenAccidentals(bars, notes.phrase.notes, fifthsOf(notes.key), [0]);
  read(keyName(notes.key), JSON.stringify(pieceOf(notes).heading));
  if ('positions' in notes) read(JSON.stringify(writtenAs(notes)));
}

/** The longest sheet that is made into sound at once, s: ten minutes, and room for what dies away. */
const LONGEST_SEC = 620;

function sounded({ durationSec, cues }: CueSheet): void {
  if (!(durationSec > 0 && durationSec < LONGEST_SEC)) throw new Error(`lasts ${durationSec} s`);
  if (cues.some(({ atSec }) => !Number.isFinite(atSec))) throw new Error('a cue without a time');
}

/** A task of any kind as its start page, test page, homework and links show and sound it. */
export function showTask(task: Task): void {
  if ('question' in task) return showTest(task);
  const handler = handlerOf(task);
  for (const name of sheetsOf(task)) sounded(handler.sheet(task, name, {}));
  sounded(handler.target(task));
  engraved(task);
  const scale = namedScale(task);
  if (scale) read(scaleName(scale.named), scaleTerms(scale.named), tempoText(scale.named.tempo));
  const chart = improvised(task);
  if (chart) read(JSON.stringify(chartBars(chart)));
  wholeCode(task);
  listCode({}, [task]);
}

/** A test as start page, test page, own phrases, homework and export show and sound it. */
export function showTest(test: PracticeTest): void {
  for (const make of [hearingSheet, performanceSheet, phraseSheet, backingSheet, handlerOf(test).target])
    sounded(make(test));
  engraved(test);
  if (test.question) rivalPieces(test);
  read(aboutPhrase(test), aboutOpened(test), shortCode(test));
  testToMidi(test);
  testToMusicXml(test);
  wholeCode(test);
  listCode({}, [test]);
}

/** An attempt as result, attempt page, sheet, desk, progress and tables show it. */
export function showAttempt(attempt: Attempt, overrides: Records['overrides'] = []): void {
  const { test, take, mark } = attempt;
  engraved(test);
  const effective = effectiveMark(attempt, overrides);
  const [notes, scale, chart] = [written(test), namedScale(test), improvised(test)];
  for (const one of [mark, effective]) {
    read(adviceText(one.advice, test), ...one.readings.map((fact) => adviceText(fact, test)));
    if (notes)
      for (const item of itemsOf(notes, take, one)) {
        if (!Number.isFinite(item.atTicks)) throw new Error('an item without a place');
        if (item.errorMs !== null) read(signed(item.errorMs), String(onStrip(item.errorMs).share));
        read(item.played);
      }
    if ('chords' in test && one.type === 'chords') read(JSON.stringify(chordRows(test, take, one)));
    if (scale) read(JSON.stringify(factsOfScale(scale, take, one)));
    if (chart) {
      read(JSON.stringify(improvisedFacts({ chart: chartOf(chart), notes: take.notes })));
      if (one.type === 'described') {
        read(...one.readings.map(toldText), ...one.facts.map((fact) => factText(fact, chart)));
        read(JSON.stringify(compareWithEarlier(one.facts, [one.facts])));
      }
    }
    const marked = ofNotes(one);
    if (marked) read(JSON.stringify(biasOf(marked)));
    if (one.reason && one.reason in NOT_MARKED) read(NOT_MARKED[one.reason as keyof typeof NOT_MARKED].text);
  }
  const again = markAgain(attempt);
  read(adviceText(again.advice, test));
  doubt(attempt, null);
  const ear = earTest(test);
  if (ear) doubt(attempt, [ear]);
  JSON.stringify(practised({ ...attempt, mark: effective }));
  read(sideWords('attempts', attempt as never, new Map()));
}

/** A whole record as the data page, the desk and its tables show it. */
export function showRecords(records: Records): void {
  const overrides = byAttempt(records.overrides);
  for (const attempt of records.attempts) showAttempt(attempt, overrides.get(attempt.id) ?? []);
  for (const { tests } of records.homework) tests.forEach(showTask);
  attemptsCsv(records);
  blindMarksCsv(records);
}

/** What the app keeps under a key of its own, as each page reads it. What it cannot read it leaves out. */
export function showKept(key: string, value: Json): void {
  switch (key) {
    case 'thresholds':
      return read(JSON.stringify(checkedThresholds(value)));
    case 'again':
      return checkedAgain(value).forEach(({ dueAtMs }) => read(dateText(dueAtMs)));
    case 'standing': {
      const standing = readStanding(value);
      return standing ? showTask(standing.task) : undefined;
    }
    case 'ownChords':
      for (const one of valuesOf(value))
        chordList(one)?.chords.forEach(({ symbol }) => read(printed(symbol)));
      return;
    case 'ownScales':
      for (const one of valuesOf(value))
        scaleList(one)?.entries.forEach((e) => read(scaleName(e), scaleTerms(e)));
      return;
    default:
      return;
  }
}
const valuesOf = (list: Json): unknown[] =>
  Array.isArray(list) ? list.map((one) => (one as { value?: unknown } | null)?.value) : [];
