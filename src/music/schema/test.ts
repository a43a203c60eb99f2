import { KINDS } from '../kinds.ts';
import * as v from 'valibot';
import { parseChord } from '../chords/index.ts';
import { spelledScale } from '../key.ts';
import { barTicks } from '../metre.ts';
import { inMetre } from './inMetre.ts';
import type { ChordSpan, Instrument, Key, Phrase, PracticeTest } from '../score.ts';
import type { ImprovisingTask, PieceTask, ReadingTask, ScaleTask } from '../task.ts';
import { fifthsOf } from '../signature.ts';
import { spelledMidi } from '../spelling.ts';
import { ARRANGERS, STYLES } from '../styles.ts';
import { ticksToSec } from '../units.ts';
import { chordTestWith } from './chordTest.ts';
import { LIMITS } from './limits.ts';
import { scaleEntry } from './scaleEntry.ts';
import { id, instrument, list, number, type Range, text, whole } from './parts.ts';

/**
 * What the JSON of a test may hold, at every door: files, links, codes, backups, the command line. Strict: an
 * unknown key is an error, so that nothing is silently dropped; and whatever passes can be sounded, written
 * and marked.
 */
const metre = v.strictObject({
  beats: whole(LIMITS.beats),
  beatUnit: v.picklist(LIMITS.beatUnits),
  grouping: list(whole(LIMITS.beats), LIMITS.beats),
});
const ticks = whole(LIMITS.ticks);
const note = v.strictObject({
  startTicks: ticks,
  durationTicks: whole([1, LIMITS.ticks[1]]),
  midi: whole(LIMITS.midi),
  spelling: v.pipe(v.string(), v.regex(/^[A-G](?:#{1,2}|b{1,2})?-?\d$/, 'a spelling such as "Bb3"')),
  string: whole([1, LIMITS.strings[1]]),
  fret: whole(LIMITS.frets),
});
const phrase = v.strictObject({ metre, bars: whole(LIMITS.bars), notes: list(note, LIMITS.notes) });

const chords = list(
  v.strictObject({
    startTicks: ticks,
    durationTicks: whole([1, LIMITS.ticks[1]]),
    symbol: text(LIMITS.nameSigns),
  }),
  LIMITS.notes,
);
const backing = v.strictObject({ arranger: v.picklist(ARRANGERS), chords });

/**
 * What stands before the notes in every task. What is checked comes back in the order of its schema, and tests are
 * compared as text: new keys go last.
 */
const before = (tempoBpm: Range) => ({
  instrument,
  tuning: list(whole(LIMITS.openStringMidi), LIMITS.strings),
  level: v.nullable(whole(LIMITS.level)),
  seed: v.nullable(whole(LIMITS.seed)),
  tempoBpm: number(tempoBpm),
  key: v.strictObject({
    tonic: v.pipe(v.string(), v.regex(/^[A-G](?:#|b)?$/, 'a tonic such as "F#"')),
    scale: text(LIMITS.nameSigns),
  }),
  swing: number(LIMITS.swing),
});

const testWith = (tempoBpm: Range) =>
  v.pipe(
    v.strictObject({
      version: v.literal(1),
      kind: v.picklist(['melody', 'rhythm']),
      ...before(tempoBpm),
      style: v.picklist(STYLES),
      phrase,
      question: v.nullable(v.strictObject({ other: phrase, answer: v.picklist(['A', 'B']) })),
      backing: v.exactOptional(backing),
      procedure: v.strictObject({
        hearings: whole(LIMITS.hearings),
        practiceSec: number(LIMITS.practiceSec),
      }),
    }),
    v.rawCheck(({ dataset, addIssue }) => {
      const wrong = dataset.typed && contradiction(dataset.value as unknown as PracticeTest);
      if (wrong) addIssue({ message: wrong });
    }),
  );

/** A test as it is set. */
export const practiceTest = testWith(LIMITS.tempoBpm);
/** A test as it was sounded for one take: help may have slowed it down, or cut it in half. */
const soundedTest = testWith(LIMITS.soundedBpm);

const positions = list(v.strictObject({ bar: whole([0, LIMITS.bars[1] - 1]), fret: whole(LIMITS.frets) }), [
  1,
  LIMITS.bars[1],
]);
const sign = v.variant('kind', [
  v.strictObject({ kind: v.literal('dynamic'), atTicks: ticks, word: v.picklist(['p', 'mp', 'mf', 'f']) }),
  v.strictObject({ kind: v.picklist(['louder', 'softer']), fromTicks: ticks, toTicks: ticks }),
  v.strictObject({ kind: v.picklist(['staccato', 'accent', 'tenuto']), note: whole(LIMITS.notes) }),
]);

const pageWith = (tempoBpm: Range) =>
  v.pipe(
    v.strictObject({
      version: v.literal(1),
      kind: v.literal('reading'),
      ...before(tempoBpm),
      phrase,
      positions,
      signs: list(sign, [0, LIMITS.signs]),
      shows: v.picklist(['both', 'staff', 'tab']),
      procedure: v.strictObject({
        prepareSec: number(LIMITS.practiceSec),
        prepareClick: v.boolean(),
        click: v.boolean(),
      }),
    }),
    v.rawCheck(({ dataset, addIssue }) => {
      const wrong = dataset.typed && impossible(dataset.value as unknown as ReadingTask);
      if (wrong) addIssue({ message: wrong });
    }),
  );

/** A page to read as it is set. */
export const readingTask = pageWith(LIMITS.tempoBpm);

const scaleWith = (tempoBpm: Range) =>
  v.pipe(
    v.strictObject({
      version: v.literal(1),
      kind: v.literal('scale'),
      ...before(tempoBpm),
      phrase,
      named: scaleEntry,
      hands: list(whole(LIMITS.frets), LIMITS.notes),
      procedure: v.strictObject({ click: v.boolean() }),
    }),
    v.rawCheck(({ dataset, addIssue }) => {
      const wrong = dataset.typed && unfingered(dataset.value as unknown as ScaleTask);
      if (wrong) addIssue({ message: wrong });
    }),
  );

const chartWith = (tempoBpm: Range) =>
  v.pipe(
    v.strictObject({
      version: v.literal(1),
      kind: v.literal('improvising'),
      ...before(tempoBpm),
      style: v.picklist(STYLES),
      phrase: v.strictObject({ metre, bars: whole(LIMITS.bars), notes: list(note, [0, 0]) }),
      chart: chords,
      plays: v.picklist(['line', 'chords']),
      procedure: v.strictObject({ prepareSec: number(LIMITS.practiceSec), prepareClick: v.boolean() }),
    }),
    v.rawCheck(({ dataset, addIssue }) => {
      const wrong = dataset.typed && unplayable(dataset.value as unknown as ImprovisingTask);
      if (wrong) addIssue({ message: wrong });
    }),
  );

/** A scale or an arpeggio as it is set. */
export const scaleTask = scaleWith(LIMITS.tempoBpm);

function unfingered({ key, phrase: line, tuning, instrument: on, hands }: ScaleTask): string | null {
  const wrong = noKey(key) ?? inPhrase(line, tuning, soundsOf(on), 'phrase');
  if (wrong) return wrong;
  return hands.length === line.notes.length
    ? null
    : `hands are ${hands.length}, the phrase has ${line.notes.length} notes`;
}
/** A chart to improvise over as it is set. */
export const improvisingTask = chartWith(LIMITS.tempoBpm);
const pieceTicks = whole(LIMITS.pieceTicks);
const pieceNote = v.strictObject({
  ...note.entries,
  startTicks: pieceTicks,
  durationTicks: whole([1, LIMITS.pieceTicks[1]]),
});

/** A piece as it was sounded for one take. It cannot be set for others: its recording stays where it is. */
const pieceWith = (tempoBpm: Range) =>
  v.pipe(
    v.strictObject({
      version: v.literal(1),
      kind: v.literal('piece'),
      ...before(tempoBpm),
      phrase: v.strictObject({ metre, bars: whole(LIMITS.pieceBars), notes: list(note, [0, 0]) }),
      title: text(LIMITS.titleSigns),
      bars: list(
        v.strictObject({
          startTicks: pieceTicks,
          durationTicks: whole([1, LIMITS.pieceTicks[1]]),
          printed: whole(LIMITS.printed),
        }),
        LIMITS.pieceBars,
      ),
      part: v.nullable(list(pieceNote, LIMITS.pieceNotes)),
      tempi: list(v.strictObject({ atTicks: pieceTicks, bpm: number(tempoBpm) }), LIMITS.tempi),
      track: v.strictObject({
        id,
        name: text(LIMITS.titleSigns),
        durationSec: number(LIMITS.trackSec),
        barOneSec: number(LIMITS.barOneSec),
        bpm: number(LIMITS.tempoBpm),
      }),
      passage: v.nullable(
        v.strictObject({ from: whole([0, LIMITS.pieceBars[1]]), to: whole(LIMITS.pieceBars) }),
      ),
    }),
    v.rawCheck(({ dataset, addIssue }) => {
      const wrong = dataset.typed && brokenPiece(dataset.value as unknown as PieceTask);
      if (wrong) addIssue({ message: wrong });
    }),
  );

/** A piece with its recording at the recording's tempo, or slower. */
export const pieceTask = pieceWith(LIMITS.soundedBpm);

function brokenPiece(piece: PieceTask): string | null {
  const { bars, part, tempi, passage, phrase: form, tempoBpm, key, tuning } = piece;
  const wrong = noKey(key) ?? inMetre(form.metre, 'phrase.metre');
  if (wrong) return wrong;
  if (form.bars !== bars.length) return `phrase.bars is ${form.bars}, there are ${bars.length} bars`;
  let end = 0;
  for (const [i, bar] of bars.entries()) {
    if (bar.startTicks !== end) return `bars[${i}] begins at tick ${bar.startTicks}, not at ${end}`;
    end = bar.startTicks + bar.durationTicks;
  }
  let at = 0;
  for (const [i, one] of (part ?? []).entries()) {
    if (one.startTicks < at) return `part[${i}] begins before the note in front of it`;
    at = one.startTicks;
    if (at >= end) return `part[${i}] begins after the last bar line (tick ${end})`;
    if (one.string > tuning.length) return `part[${i}] is on string ${one.string} of ${tuning.length}`;
  }
  if (tempi[0]!.atTicks !== 0) return 'tempi begin after tick 0';
  if (tempi[0]!.bpm !== tempoBpm) return `tempoBpm is ${tempoBpm}, the first of tempi ${tempi[0]!.bpm}`;
  if (tempi.some(({ atTicks }, i) => i > 0 && atTicks <= tempi[i - 1]!.atTicks))
    return 'tempi are out of order';
  if (passage && !(passage.from < passage.to && passage.to <= bars.length))
    return `passage goes from bar ${passage.from} to ${passage.to} of ${bars.length}`;
  return null;
}

/** Any task as it is set. */
export const anyTask = v.union([
  practiceTest,
  readingTask,
  scaleTask,
  improvisingTask,
  chordTestWith(LIMITS.tempoBpm),
]);
/** Any task as it was sounded for one take. */
export const soundedTask = v.union([
  soundedTest,
  pageWith(LIMITS.soundedBpm),
  scaleWith(LIMITS.soundedBpm),
  chartWith(LIMITS.soundedBpm),
  chordTestWith(LIMITS.soundedBpm),
  pieceTask,
]);

const unplayable = ({ key, phrase: form, chart: its }: ImprovisingTask): string | null =>
  noKey(key) ?? inMetre(form.metre, 'phrase.metre') ?? inChords(its, lengthOf(form), 'chart');

function impossible({ key, phrase: page, tuning, instrument: on, signs }: ReadingTask): string | null {
  const wrong = noKey(key) ?? inPhrase(page, tuning, soundsOf(on), 'phrase');
  if (wrong) return wrong;
  const beyond = signs.findIndex((one) => 'note' in one && one.note >= page.notes.length);
  return beyond < 0 ? null : `signs[${beyond}] stands at a note that is not there`;
}

/** What no test can be though each of its numbers may; null where all fits together. */
function contradiction(test: PracticeTest): string | null {
  const { key, kind, question, tuning } = test;
  const no = noKey(key);
  if (no) return no;
  const sounds = soundsOf(test.instrument);
  const wrong = inPhrase(test.phrase, tuning, sounds, 'phrase');
  if (wrong) return wrong;
  const unharmonised = test.backing && inChords(test.backing.chords, lengthOf(test.phrase), 'backing.chords');
  if (unharmonised) return unharmonised;
  if (!KINDS[kind].asks && question) return 'question belongs to rhythm tests only';
  if (question) {
    const other = inPhrase(question.other, tuning, sounds, 'question.other');
    if (other) return other;
    if (lengthOf(question.other) !== lengthOf(test.phrase))
      return 'question.other is not as long as the phrase';
  }
  return tooLong(test);
}

const soundsOf = (on: Instrument): Range => (on === 'bass' ? LIMITS.bassMidi : LIMITS.guitarMidi);

function noKey(key: Key): string | null {
  const name = JSON.stringify(`${key.tonic} ${key.scale}`);
  try {
    spelledScale(key);
  } catch {
    return `key is ${name}, which is no key`;
  }
  try {
    fifthsOf(key);
  } catch {
    return `key is ${name}, which needs more than seven accidentals`;
  }
  return null;
}

const lengthOf = ({ metre: its, bars }: Phrase): number => barTicks(its) * bars;

function inPhrase(given: Phrase, tuning: readonly number[], sounds: Range, where: string): string | null {
  const wrong = inMetre(given.metre, `${where}.metre`);
  if (wrong) return wrong;
  const end = lengthOf(given);
  let free = 0;
  for (const [i, one] of given.notes.entries()) {
    const here = `${where}.notes[${i}]`;
    if (one.startTicks < free) return `${here} begins before the note in front of it has ended`;
    free = one.startTicks + one.durationTicks;
    if (free > end) return `${here} lasts beyond the last bar line (tick ${end})`;
    if (![one.startTicks, free].every((at) => LIMITS.gridTicks.some((grid) => at % grid === 0)))
      return `${here} begins or ends where no note can be written (ticks ${one.startTicks} to ${free})`;
    if (one.string > tuning.length) return `${here} is on string ${one.string} of ${tuning.length}`;
    const sounding = tuning[tuning.length - one.string]! + one.fret;
    if (sounding !== one.midi)
      return `${here} has MIDI number ${one.midi}, but string ${one.string}, fret ${one.fret} sounds ${sounding}`;
    if (spelledMidi(one.spelling) !== one.midi)
      return `${here} is spelled ${one.spelling}, which is not MIDI number ${one.midi}`;
    if (one.midi < sounds[0] || one.midi > sounds[1])
      return `${here} is MIDI number ${one.midi}; the instrument sounds ${sounds[0]} to ${sounds[1]}`;
  }
  return null;
}

/** Chords follow one another from the first bar line to the last, and each has a name that can be read. */
function inChords(spans: readonly ChordSpan[], end: number, where: string): string | null {
  let free = 0;
  for (const [i, { startTicks, durationTicks, symbol }] of spans.entries()) {
    const here = `${where}[${i}]`;
    if (startTicks !== free) return `${here} begins at tick ${startTicks}, not at ${free}`;
    free = startTicks + durationTicks;
    if (!parseChord(symbol)) return `${here} is ${JSON.stringify(symbol)}, which is no chord`;
  }
  return free === end ? null : `${where} end at tick ${free}, not at the last bar line (${end})`;
}

/** Bars counted in at most, and seconds for chord, first note and the last sound to die away. */
const COUNTED_BARS = 4;
const AROUND_SEC = 10;

/** Tonic, first note, count and every hearing are made into sound in one piece, at the tempo that was set. */
function tooLong({ phrase: { metre: its, bars }, procedure: { hearings }, tempoBpm }: PracticeTest) {
  const inAll = (hearings * bars + hearings - 1 + COUNTED_BARS) * barTicks(its);
  // What was slowed down was let in at its own tempo.
  const heardSec = AROUND_SEC + ticksToSec(inAll, Math.max(tempoBpm, LIMITS.tempoBpm[0]));
  return heardSec <= LIMITS.hearingSec
    ? null
    : `phrase and its hearings last ${Math.round(heardSec)} s, the longest are ${LIMITS.hearingSec} s`;
}
