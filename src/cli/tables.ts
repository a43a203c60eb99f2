import type { HeardTake } from '../music/notes.ts';
import type { ChordTest } from '../music/chords/index.ts';
import type { AnyMark, ChordMark, Mark } from '../tests-engine/index.ts';

export const CLASS_NAMES = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
export const noteName = (midi: number) => `${CLASS_NAMES[midi % 12]!}${Math.floor(midi / 12) - 1}`;

/** Outcomes as the screen has them. */
const OUTCOMES = { there: 'Got it', close: 'Close', 'not-yet': 'Not yet' };
const marked = ({ mark, outcome, reason }: Pick<Mark | ChordMark, 'mark' | 'outcome' | 'reason'>): string =>
  mark === null
    ? `no mark (${reason ?? 'not markable'})`
    : `mark ${mark}${outcome ? ` (${OUTCOMES[outcome]})` : ''}`;

/** Rows under headings, columns as wide as their widest cell. */
export function table(headings: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = headings.map((heading, i) => Math.max(heading.length, ...rows.map((row) => row[i]!.length)));
  return [headings, ...rows]
    .map((row) =>
      row
        .map((cell, i) => cell.padStart(widths[i]!))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

const signed = (value: number, digits = 0) => `${value > 0 ? '+' : ''}${value.toFixed(digits)}`;

/** A heard take for a reader. */
export function heardTable(take: HeardTake): string {
  const rows = take.notes.map((note) => [
    note.onsetSec.toFixed(3),
    note.offsetSec.toFixed(3),
    noteName(note.midi),
    String(note.midi),
    signed(note.cents),
    note.levelDb.toFixed(1),
    note.confidence.toFixed(2),
  ]);
  const { verdict, reason, delayMs, driftPpm, cancellationDb } = take.heard;
  const number = (value: number | null | undefined, digits: number) => value?.toFixed(digits) ?? '–';
  return [
    table(['onset s', 'offset s', 'note', 'MIDI', 'cents', 'level dB', 'confidence'], rows),
    `${rows.length} notes, tuned ${signed(take.tuningCents)} cents, ${verdict}${reason ? ` (${reason})` : ''}`,
    ...(delayMs === undefined
      ? []
      : [
          `backing: delay ${number(delayMs, 2)} ms, drift ${number(driftPpm, 1)} ppm, ${number(cancellationDb, 1)} dB taken out`,
        ]),
    '',
  ].join('\n');
}

/** What was told of a take that is not marked note by note, for a reader: sentences by their codes, then what was counted. */
export function toldTable(mark: AnyMark): string {
  const plain = ({ code, values }: AnyMark['advice']): string =>
    [code, ...Object.entries(values).map(([name, value]) => `${name} ${value}`)].join('  ');
  return [
    mark.mark === null
      ? `no mark (${mark.reason ?? 'not markable'})`
      : `mark ${Math.round(mark.mark)} of 100`,
    ...mark.readings.map(plain),
    ...('facts' in mark ? ['', ...mark.facts.map(plain)] : []),
    '',
  ].join('\n');
}

/** A mark for a reader. */
export function markTable(mark: Mark): string {
  const rows = mark.verdicts.map((v) => [
    v.targetIndex === null ? '–' : String(v.targetIndex + 1),
    v.playedIndex === null ? '–' : String(v.playedIndex + 1),
    v.kind,
    v.errorMs === null ? '' : signed(v.errorMs),
    v.errorSemitones === null ? '' : signed(v.errorSemitones, 1),
  ]);
  const { biasMs, unevennessMs } = mark.timing;
  return [
    marked(mark),
    ...(biasMs === null
      ? []
      : [`timing ${signed(biasMs)} ms, uneven by ${(unevennessMs ?? 0).toFixed(0)} ms`]),
    table(['target', 'played', 'verdict', 'ms', 'semitones'], rows),
    '',
  ].join('\n');
}

/** A mark of chords for a reader. */
export function chordMarkTable(mark: ChordMark, { chords }: ChordTest): string {
  const names = (classes: readonly number[]): string => classes.map((pc) => CLASS_NAMES[pc]!).join(' ');
  const rows = mark.verdicts.map((v) => [
    v.askedIndex === null ? '–' : String(v.askedIndex + 1),
    v.askedIndex === null ? '–' : chords[v.askedIndex]!.symbol,
    v.atSec === null ? '–' : v.atSec.toFixed(3),
    v.kind === 'unsure' ? "can't tell" : v.kind,
    v.errorMs === null ? '' : signed(v.errorMs),
    names(v.missing),
    names(v.foreign),
    v.bass === null ? '' : noteName(v.bass),
  ]);
  return [
    `${marked(mark)}${mark.mark !== null && mark.range ? `, between ${mark.range[0]} and ${mark.range[1]}: not everything could be told` : ''}`,
    table(['asked', 'chord', 'strum s', 'verdict', 'ms', 'missing', 'foreign', 'bass'], rows),
    '',
  ].join('\n');
}
