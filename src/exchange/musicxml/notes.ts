import {
  spelled,
  type BarSigns,
  type NoteValue,
  type Sign,
  type Spelled,
  type WrittenAccidental,
} from '../../notation/index.ts';
import type { WrittenNote } from '../../music/score.ts';
import { element } from './xml.ts';

const TYPES: Readonly<Record<NoteValue, string>> = {
  w: 'whole',
  h: 'half',
  q: 'quarter',
  '8': 'eighth',
  '16': '16th',
  '32': '32nd',
};
const BEAMS: Partial<Readonly<Record<NoteValue, number>>> = { '8': 1, '16': 2, '32': 3 };
const ALTER: Readonly<Record<string, number>> = { bb: -2, b: -1, '': 0, '#': 1, '##': 2 };
const ACCIDENTALS: Readonly<Record<string, string>> = {
  bb: 'flat-flat',
  b: 'flat',
  n: 'natural',
  '#': 'sharp',
  '##': 'double-sharp',
};

/** `begin`, `continue`, `end` or a hook for each beam of a sign. */
function beamsOf(sign: Sign, before: Sign | undefined, after: Sign | undefined): string[] {
  const levels = BEAMS[sign.value] ?? 0;
  if (sign.beam === null || levels === 0) return [];
  const joins = (other: Sign | undefined, level: number) =>
    other?.beam === sign.beam && (BEAMS[other.value] ?? 0) >= level;
  const whole = joins(before, 1) || joins(after, 1);
  if (!whole) return [];
  return Array.from({ length: levels }, (_, i) => {
    const from = joins(before, i + 1);
    const to = joins(after, i + 1);
    // A hook points into its group: back, unless the sign is the group's first.
    const text = from
      ? to
        ? 'continue'
        : 'end'
      : to
        ? 'begin'
        : joins(before, 1)
          ? 'backward hook'
          : 'forward hook';
    return element('beam', text, { number: i + 1 });
  });
}

function tupletMark(sign: Sign, before: Sign | undefined, after: Sign | undefined): string[] {
  if (sign.tuplet === null) return [];
  const first = before?.tuplet !== sign.tuplet;
  const last = after?.tuplet !== sign.tuplet;
  return [
    ...(first ? [element('tuplet', [], { type: 'start', bracket: 'yes' })] : []),
    ...(last ? [element('tuplet', [], { type: 'stop' })] : []),
  ];
}

const pitchOf = ({ letter, accidental, octave }: Spelled): string =>
  element('pitch', [
    element('step', letter),
    ...(accidental === '' ? [] : [element('alter', ALTER[accidental]!)]),
    element('octave', octave),
  ]);

/**
 * The notes and rests of one bar as MusicXML, on the staff. Pitches are as they sound: the clef shows them an octave
 * higher.
 * @param articulations signs of notes, by their number in the phrase
 */
export function barNotes(
  signs: BarSigns,
  notes: readonly WrittenNote[],
  accidentals: readonly (WrittenAccidental | null)[],
  articulations: ReadonlyMap<number, readonly string[]> = new Map(),
): string[] {
  return signs.map((sign, i) => {
    const before = signs[i - 1];
    const after = signs[i + 1];
    const note = sign.noteIndex === null ? null : notes[sign.noteIndex]!;
    const pitch = note ? spelled(note.spelling) : null;
    const shown = accidentals[i] ?? null;
    const ties: ('stop' | 'start')[] = [
      ...(sign.tiedFromPrevious ? (['stop'] as const) : []),
      ...(sign.tiedToNext ? (['start'] as const) : []),
    ];
    // Where a note is held over by ties its articulation stands at the first of them.
    const struck = sign.tiedFromPrevious ? [] : (articulations.get(sign.noteIndex ?? -1) ?? []);
    const notations = [
      ...ties.map((type) => element('tied', [], { type })),
      ...tupletMark(sign, before, after),
      ...(struck.length > 0 ? [element('articulations', struck)] : []),
    ];
    return element('note', [
      pitch ? pitchOf(pitch) : element('rest', [], sign.wholeBar ? { measure: 'yes' } : {}),
      element('duration', sign.durationTicks),
      ...ties.map((type) => element('tie', [], { type })),
      element('voice', 1),
      ...(sign.wholeBar ? [] : [element('type', TYPES[sign.value])]),
      ...(sign.dots === 1 && !sign.wholeBar ? [element('dot')] : []),
      ...(shown === null
        ? []
        : [
            element(
              'accidental',
              ACCIDENTALS[shown.sign]!,
              shown.courtesy ? { cautionary: 'yes', parentheses: 'yes' } : {},
            ),
          ]),
      ...(sign.tuplet === null
        ? []
        : [element('time-modification', [element('actual-notes', 3), element('normal-notes', 2)])]),
      element('staff', 1),
      ...beamsOf(sign, before, after),
      ...(notations.length === 0 ? [] : [element('notations', notations)]),
    ]);
  });
}

/** Programs keep the voices of a second staff apart from 5 on. */
const TAB_VOICE = 5;

/** The same bar as TAB: string and fret of each note that is struck, nothing drawn for rests. */
export function tabNotes(signs: BarSigns, notes: readonly WrittenNote[]): string[] {
  return signs.map((sign) => {
    const note = sign.noteIndex === null ? null : notes[sign.noteIndex]!;
    const pitch = note ? spelled(note.spelling) : null;
    const ties: ('stop' | 'start')[] = [
      ...(sign.tiedFromPrevious ? (['stop'] as const) : []),
      ...(sign.tiedToNext ? (['start'] as const) : []),
    ];
    return element(
      'note',
      [
        pitch ? pitchOf(pitch) : element('rest', [], sign.wholeBar ? { measure: 'yes' } : {}),
        element('duration', sign.durationTicks),
        ...ties.map((type) => element('tie', [], { type })),
        element('voice', TAB_VOICE),
        ...(sign.wholeBar ? [] : [element('type', TYPES[sign.value])]),
        ...(sign.dots === 1 && !sign.wholeBar ? [element('dot')] : []),
        ...(sign.tuplet === null
          ? []
          : [element('time-modification', [element('actual-notes', 3), element('normal-notes', 2)])]),
        ...(note ? [element('stem', 'none')] : []),
        element('staff', 2),
        ...(note
          ? [
              element('notations', [
                ...ties.map((type) => element('tied', [], { type })),
                element('technical', [element('string', note.string), element('fret', note.fret)]),
              ]),
            ]
          : []),
      ],
      note ? {} : { 'print-object': 'no' },
    );
  });
}
