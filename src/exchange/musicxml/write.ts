import { CLEFS, fifthsOf, notate, writtenAccidentals, writtenOctaveUp } from '../../notation/index.ts';
import { parseChord, quality, type QualityId } from '../../music/chords/index.ts';
import { barTicks } from '../../music/metre.ts';
import type { Metre } from '../../music/score.ts';
import { pageOfMusic, type NotesTask } from '../../music/task.ts';
import { TICKS_PER_QUARTER } from '../../music/units.ts';
import { usualGrouping } from '../phrase/metre.ts';
import { modeOf } from '../phrase/modes.ts';
import { partsOf, type NamedPhrase } from '../phrase/parts.ts';
import { workTitle } from '../phrase/workTitle.ts';
import { barNotes, tabNotes } from './notes.ts';
import { articulationsOf, directionsOf } from './signs.ts';
import { element } from './xml.ts';

/** By the standard's list of sounds, and General MIDI's programs from 1: steel-string guitar, fingered bass. */
const SOUNDS = {
  guitar: { sound: 'pluck.guitar.acoustic', program: 26 },
  bass: { sound: 'pluck.bass.electric', program: 34 },
} as const;
const NAMES = { guitar: 'Guitar', bass: 'Bass guitar' } as const;
/** The clefs of guitar and bass, which sound an octave below what they show. */
const CLEF_SIGNS = { treble: ['G', 2], bass: ['F', 4] } as const;

/** An unusual grouping is written out ("3+2+2"), as printed music does. */
function beatsOf(metre: Metre): string {
  const usual = usualGrouping(metre.beats, metre.beatUnit);
  const grouping = metre.grouping.join('+');
  return metre.beatUnit >= 8 && grouping !== usual.join('+') && metre.grouping.some((g) => g > 1)
    ? grouping
    : String(metre.beats);
}

function attributes(test: NotesTask): string {
  const { metre } = test.phrase;
  const [sign, line] = CLEF_SIGNS[CLEFS[test.instrument]];
  const octave = writtenOctaveUp(test.instrument, test.tuning.length);
  return element('attributes', [
    element('divisions', TICKS_PER_QUARTER),
    element('key', [element('fifths', fifthsOf(test.key)), element('mode', modeOf(test.key.scale))]),
    element('time', [element('beats', beatsOf(metre)), element('beat-type', metre.beatUnit)]),
    element('staves', 2),
    element(
      'clef',
      [
        element('sign', sign),
        element('line', line),
        ...(octave === 0 ? [] : [element('clef-octave-change', -octave)]),
      ],
      { number: 1 },
    ),
    element('clef', [element('sign', 'TAB'), element('line', TAB_CLEF_LINE)], { number: 2 }),
    element(
      'staff-details',
      [element('staff-lines', test.tuning.length), ...test.tuning.map((open, i) => staffTuning(open, i + 1))],
      { number: 2 },
    ),
  ]);
}

/** Where a TAB clef stands, by the standard's own examples. */
const TAB_CLEF_LINE = 5;
const STEPS = ['C', 'C', 'D', 'D', 'E', 'F', 'F', 'G', 'G', 'A', 'A', 'B'];
const SHARP = [1, 3, 6, 8, 10];

/** What an open string sounds; line 1 is the lowest of the TAB. */
function staffTuning(open: number, line: number): string {
  const pitchClass = open % 12;
  return element(
    'staff-tuning',
    [
      element('tuning-step', STEPS[pitchClass]!),
      ...(SHARP.includes(pitchClass) ? [element('tuning-alter', 1)] : []),
      element('tuning-octave', Math.floor(open / 12) - 1),
    ],
    { line },
  );
}

/** How swing is told: two whole numbers in the ratio of on-beat to off-beat quaver, 2 : 1 for triplet swing. */
function swingOf(swing: number): string {
  if (swing === 0.5) return element('swing', [element('straight')]);
  const [first, second] =
    Math.abs(swing - 2 / 3) < 0.001 ? [2, 1] : [Math.round(swing * 100), Math.round((1 - swing) * 100)];
  return element('swing', [
    element('first', first),
    element('second', second),
    element('swing-type', 'eighth'),
  ]);
}

/** What stands over quavers that swing: programs that pass over `swing` still show it. */
const SWING_WORDS = 'swing';

function tempo(test: NotesTask): string {
  const { beatUnit, grouping } = test.phrase.metre;
  const compound = beatUnit === 8 && grouping.every((g) => g === 3);
  const beat = compound
    ? [element('beat-unit', 'quarter'), element('beat-unit-dot')]
    : [element('beat-unit', 'quarter')];
  const perMinute = Math.round(compound ? test.tempoBpm / 1.5 : test.tempoBpm);
  return element(
    'direction',
    [
      element('direction-type', [element('metronome', [...beat, element('per-minute', perMinute)])]),
      element('sound', [swingOf(test.swing)], { tempo: test.tempoBpm }),
    ],
    { placement: 'above' },
  );
}

/** Swing in words, as a direction of its own; nothing where quavers are straight. */
const swingWords = (test: NotesTask): string[] =>
  test.swing === 0.5
    ? []
    : [
        element(
          'direction',
          [element('direction-type', [element('words', SWING_WORDS, { 'font-style': 'italic' })])],
          { placement: 'above' },
        ),
      ];

/** MusicXML's words for the kinds of chords; the symbol itself stands beside them, as we write it. */
const KINDS: Readonly<Record<QualityId, string>> = {
  major: 'major',
  minor: 'minor',
  diminished: 'diminished',
  augmented: 'augmented',
  fifth: 'power',
  'suspended second': 'suspended-second',
  'suspended fourth': 'suspended-fourth',
  sixth: 'major-sixth',
  'minor sixth': 'minor-sixth',
  'dominant seventh': 'dominant',
  'major seventh': 'major-seventh',
  'minor seventh': 'minor-seventh',
  'minor major seventh': 'major-minor',
  'half-diminished': 'half-diminished',
  'diminished seventh': 'diminished-seventh',
  'suspended seventh': 'suspended-fourth',
  'added ninth': 'major',
  'dominant ninth': 'dominant-ninth',
  'minor ninth': 'minor-ninth',
  'major ninth': 'major-ninth',
};

function pitchName(name: string, what: 'root' | 'bass'): string {
  const alter = name.includes('#') ? 1 : name.includes('b') ? -1 : 0;
  return element(what, [
    element(`${what}-step`, name[0]!),
    ...(alter === 0 ? [] : [element(`${what}-alter`, alter)]),
  ]);
}

/** The chord symbols of one bar, each with its distance from the bar line. */
function harmonies(test: NotesTask, bar: number): string[] {
  const { phrase } = test;
  const backing = 'backing' in test ? test.backing : undefined;
  const length = barTicks(phrase.metre);
  return (backing?.chords ?? [])
    .filter(({ startTicks }) => Math.floor(startTicks / length) === bar)
    .flatMap(({ startTicks, symbol }) => {
      const chord = parseChord(symbol);
      if (!chord) return [];
      const { suffix } = quality(chord.quality);
      const offset = startTicks - bar * length;
      return [
        element('harmony', [
          pitchName(chord.root, 'root'),
          element('kind', KINDS[chord.quality], suffix === '' ? {} : { text: suffix }),
          ...(chord.bass === null ? [] : [pitchName(chord.bass, 'bass')]),
          ...(offset === 0 ? [] : [element('offset', offset)]),
        ]),
      ];
    });
}

/** Tempo and swing stand over the first part: they hold for all. */
function part(id: string, test: NotesTask, { phrase }: NamedPhrase, first: boolean): string {
  const written = notate(phrase);
  const page = pageOfMusic(test);
  const accidentals = writtenAccidentals(written, phrase.notes, fifthsOf(test.key));
  const bars = written.map((signs, bar, all) =>
    element(
      'measure',
      [
        ...(bar === 0 ? [attributes(test), ...(first ? [tempo(test), ...swingWords(test)] : [])] : []),
        ...harmonies(test, bar),
        ...(page ? directionsOf(page, bar) : []),
        ...barNotes(signs, phrase.notes, accidentals[bar]!, page ? articulationsOf(page) : undefined),
        element('backup', [element('duration', barTicks(phrase.metre))]),
        ...tabNotes(signs, phrase.notes),
        ...(bar === all.length - 1
          ? [element('barline', [element('bar-style', 'light-heavy')], { location: 'right' })]
          : []),
      ],
      { number: bar + 1 },
    ),
  );
  return element('part', bars, { id });
}

/**
 * A test as MusicXML 4.0 (score-partwise): one part, or two for a rhythm test's two rhythms. Each has a staff, in the
 * clef that sounds an octave lower, and a TAB under it with the strings of the tuning. Chords of the backing stand over
 * the bars as chord symbols; what is printed beside the notes of a page to read, dynamics and articulation, stands there
 * as well.
 * @param title of the work; its key where none is given
 */
export function testToMusicXml(test: NotesTask, title?: string): string {
  const parts = partsOf(test).map((named, i) => ({ id: `P${i + 1}`, named }));
  const instrument = NAMES[test.instrument];
  return [
    '<?xml version="1.0" encoding="UTF-8" standalone="no"?>',
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">',
    element(
      'score-partwise',
      [
        element('work', [element('work-title', title || workTitle(test))]),
        element('identification', [element('encoding', [element('software', 'Twobar')])]),
        element(
          'part-list',
          parts.map(({ id, named }) =>
            element(
              'score-part',
              [
                element('part-name', `${instrument}, ${named.name}`),
                element(
                  'score-instrument',
                  [
                    element('instrument-name', instrument),
                    element('instrument-sound', SOUNDS[test.instrument].sound),
                  ],
                  { id: `${id}-I1` },
                ),
                element(
                  'midi-instrument',
                  [element('midi-channel', 1), element('midi-program', SOUNDS[test.instrument].program)],
                  { id: `${id}-I1` },
                ),
              ],
              { id },
            ),
          ),
        ),
        ...parts.map(({ id, named }, i) => part(id, test, named, i === 0)),
      ],
      { version: '4.0' },
    ),
    '',
  ].join('\n');
}
