import { listCode, testToMidi, testToMusicXml, wholeCode } from '../../src/exchange/index.ts';
import type { Task } from '../../src/music/task.ts';
import type { PracticeTest } from '../../src/music/score.ts';
import { notate, writtenAccidentals, fifthsOf } from '../../src/notation/index.ts';
import { attemptsCsv, blindMarksCsv } from '../../src/store/csv.ts';
import { byAttempt, effectiveMark } from '../../src/store/effective.ts';
import type { Attempt, Records } from '../../src/store/index.ts';
import {
  backingSheet,
  earTest,
  handlerOf,
  hearingSheet,
  ofNotes,
  performanceSheet,
  phraseSheet,
  practised,
  shortCode,
} from '../../src/tests-engine/index.ts';
import { adviceText } from '../../src/ui/advice.ts';
import { NOT_MARKED } from '../../src/ui/messages.ts';
import { keyName } from '../../src/ui/names.ts';
import { pieceOf, rivalPieces } from '../../src/ui/piece.ts';
import { doubt } from '../../src/ui/record/doubt.ts';
import { markAgain } from '../../src/ui/record/remark.ts';
import { sideWords } from '../../src/ui/record/words.ts';
import { biasOf } from '../../src/ui/result/bias.ts';
import { itemsOf } from '../../src/ui/result/items.ts';
import { onStrip, signed } from '../../src/ui/result/strip.ts';
import { aboutOpened, aboutPhrase } from '../../src/ui/screens/phrases/words.ts';

/** Nothing that is read on a page may be one of these. */
const UNREADABLE = /undefined|NaN|\[object|Infinity/;
function read(...texts: readonly (string | null | undefined)[]): void {
  for (const text of texts) if (text && UNREADABLE.test(text)) throw new Error(`unreadable: ${text}`);
}

/** What a page that engraves asks of a phrase. */
function engraved(task: Task): void {
  if (!('phrase' in task)) return;
  const bars = notate(task.phrase);
  if (bars.length !== task.phrase.bars) throw new Error(`${bars.length} bars written`);
  writtenAccidentals(bars, task.phrase.notes, fifthsOf(task.key), [0]);
  read(keyName(task.key), JSON.stringify(pieceOf(task as PracticeTest).heading));
}

/** The longest sheet that is made into sound at once, s: ten minutes, and room for what dies away. */
const LONGEST_SEC = 620;

/** A test as start page, test page, own phrases, homework and export show and sound it. */
export function showTest(test: PracticeTest): void {
  for (const make of [hearingSheet, performanceSheet, phraseSheet, backingSheet, handlerOf(test).target]) {
    const { durationSec, cues } = make(test);
    if (!(durationSec > 0 && durationSec < LONGEST_SEC)) throw new Error(`lasts ${durationSec} s`);
    if (cues.some(({ atSec }) => !Number.isFinite(atSec))) throw new Error('a cue without a time');
  }
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
  if (!('phrase' in test)) return;
  const effective = effectiveMark(attempt, overrides);
  for (const one of [mark, effective]) {
    read(adviceText(one.advice, test), ...one.readings.map((fact) => adviceText(fact, test)));
    for (const item of itemsOf(test as PracticeTest, take, one)) {
      if (!Number.isFinite(item.atTicks)) throw new Error('an item without a place');
      if (item.errorMs !== null) read(signed(item.errorMs), String(onStrip(item.errorMs).share));
      read(item.played);
    }
    const notes = ofNotes(one);
    if (notes) read(JSON.stringify(biasOf(notes)));
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
  for (const { tests } of records.homework) tests.forEach((test) => showTest(test as PracticeTest));
  attemptsCsv(records);
  blindMarksCsv(records);
}
