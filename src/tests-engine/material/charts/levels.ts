import type { MetreName } from '../../../music/metre.ts';

/** Progressions of one scale. Every part takes one of its alternatives; together they are the form. */
export interface ChartForm {
  readonly scale: string;
  readonly styles: readonly string[];
  readonly metres: readonly MetreName[];
  /**
   * Bars divided by `|`; numerals count on the major scale of the tonic, whatever the key ("bVI", "IIm7b5"); two in
   * a bar share it by halves; `V/VII` has its bass on the seventh degree.
   */
  readonly parts: readonly (readonly string[])[];
}

export interface ChartLevel {
  readonly tonics: readonly string[];
  /** Crotchets a minute, lowest and highest. */
  readonly tempo: readonly [number, number];
  readonly forms: readonly ChartForm[];
}

const GUITAR_MAJOR = ['C', 'G', 'D', 'A', 'E'] as const;
const GUITAR_MINOR = ['A', 'E', 'D', 'B'] as const;
const COMMON = [...GUITAR_MAJOR, 'F', 'Bb'] as const;
const WIDE = ['C', 'G', 'D', 'A', 'E', 'F', 'Bb', 'Eb'] as const;

/**
 * Ten levels of our own. What is asked rises: three chords; minor; four-bar turns; modal vamps; the twelve bars of the
 * blues; a moving bass; ii–V–I; chords that lead outside the key; both together over twelve bars; a new chord on
 * every other beat. The turns are the trade's everyday ones (common practice, no source).
 */
export const CHART_LEVELS: readonly ChartLevel[] = [
  {
    tonics: GUITAR_MAJOR,
    tempo: [66, 84],
    forms: [
      {
        scale: 'major',
        styles: ['rock', 'ballad', 'reggae'],
        metres: ['4/4'],
        parts: [
          ['I | IV', 'I | V', 'I | I'],
          ['IV | V', 'V | I', 'IV | I', 'V | IV'],
        ],
      },
    ],
  },
  {
    tonics: GUITAR_MINOR,
    tempo: [66, 88],
    forms: [
      {
        scale: 'minor',
        styles: ['rock', 'ballad', 'reggae'],
        metres: ['4/4'],
        parts: [
          ['Im | bVII', 'Im | IVm', 'Im | bVI'],
          ['bVI | bVII', 'IVm | Vm', 'bVII | Im', 'IVm | Im'],
        ],
      },
    ],
  },
  {
    tonics: COMMON,
    tempo: [72, 96],
    forms: [
      {
        scale: 'major',
        styles: ['rock', 'ballad', 'reggae', 'latin'],
        metres: ['4/4'],
        parts: [
          ['I | V | VIm | IV', 'I | VIm | IV | V', 'I | IIIm | IV | V', 'I | IV | IIm | V'],
          ['VIm | IV | I | V', 'IV | V | I | VIm', 'IIm | V | I | I', 'IV | I | IIm | V'],
        ],
      },
      {
        scale: 'major',
        styles: ['ballad'],
        metres: ['3/4', '6/8'],
        parts: [
          ['I | VIm | IV | V', 'I | IV | I | V'],
          ['VIm | IV | I | V', 'IV | I | V | I'],
        ],
      },
    ],
  },
  {
    tonics: [...GUITAR_MINOR, 'G', 'C'],
    tempo: [76, 104],
    forms: [
      {
        scale: 'dorian',
        styles: ['funk', 'latin', 'rock'],
        metres: ['4/4'],
        parts: [
          ['Im7 | IV7', 'Im7 | IIm7'],
          ['Im7 | IV7', 'bIII | IV'],
          ['Im7 | IV7', 'Im7 | IIm7'],
          ['bVII | IV', 'IV7 | Im7', 'bIII | IIm7'],
        ],
      },
      {
        scale: 'mixolydian',
        styles: ['rock', 'reggae', 'funk'],
        metres: ['4/4'],
        parts: [
          ['I | bVII', 'I7 | IV'],
          ['IV | I', 'bVII | IV'],
          ['I | bVII', 'I7 | IV'],
          ['Vm7 | IV', 'bVII | I', 'IV | I'],
        ],
      },
    ],
  },
  {
    tonics: ['A', 'E', 'G', 'C', 'D', 'B'],
    tempo: [76, 116],
    forms: [
      {
        scale: 'blues',
        styles: ['shuffle', 'shuffle', 'rock', 'funk'],
        metres: ['4/4'],
        parts: [
          ['I7 | I7 | I7 | I7', 'I7 | IV7 | I7 | I7'],
          ['IV7 | IV7 | I7 | I7'],
          ['V7 | IV7 | I7 | V7', 'V7 | IV7 | I7 | I7', 'V7 | V7 | I7 | I7'],
        ],
      },
    ],
  },
  {
    tonics: ['C', 'G', 'D', 'A', 'F'],
    tempo: [72, 100],
    forms: [
      {
        scale: 'major',
        styles: ['ballad', 'rock', 'reggae'],
        metres: ['4/4'],
        parts: [
          ['I | V/VII | VIm | VIm/V', 'I | I/III | IV | V', 'I | IV/I | I | V', 'I/V | IV | I | V'],
          ['IV | I/III | IIm | V', 'VIm | IV/VI | I/V | V', 'IV | V/VII | I | I', 'IIm7 | I/III | IV | V7'],
        ],
      },
    ],
  },
  {
    tonics: COMMON,
    tempo: [84, 120],
    forms: [
      {
        scale: 'major',
        styles: ['latin', 'ballad', 'shuffle'],
        metres: ['4/4'],
        parts: [
          ['IIm7 | V7 | Imaj7 | Imaj7', 'Imaj7 | VIm7 | IIm7 | V7', 'Imaj7 | IVmaj7 | IIm7 | V7'],
          ['IIIm7 | VIm7 | IIm7 | V7', 'IVmaj7 | IIm7 | V7 | Imaj7', 'IIm7 V7 | Imaj7 | IIm7 V7 | Imaj7'],
        ],
      },
    ],
  },
  {
    tonics: COMMON,
    tempo: [84, 120],
    forms: [
      {
        scale: 'major',
        styles: ['latin', 'ballad', 'shuffle', 'funk'],
        metres: ['4/4'],
        parts: [
          ['Imaj7 | VI7 | IIm7 | V7', 'I | I7 | IV | IVm', 'Imaj7 | III7 | VIm7 | VIm7'],
          ['III7 | VIm7 | II7 | V7', 'IVmaj7 | VI7 | IIm7 V7 | Imaj7', 'II7 | II7 | IIm7 V7 | I'],
        ],
      },
      {
        scale: 'harmonic minor',
        styles: ['latin', 'ballad', 'funk'],
        metres: ['4/4'],
        parts: [
          ['Im7 | IVm7 | V7 | Im7', 'IIm7b5 | V7 | Im7 | Im7', 'Im | bVI | IIm7b5 | V7'],
          ['IVm7 | Im7 | bVImaj7 | V7', 'bVImaj7 | IIm7b5 V7 | Im7 | Im7', 'IVm7 | bVII7 | bIIImaj7 | V7'],
        ],
      },
    ],
  },
  {
    tonics: WIDE,
    tempo: [92, 138],
    forms: [
      {
        scale: 'minor',
        styles: ['shuffle', 'latin', 'funk'],
        metres: ['4/4'],
        parts: [
          ['Im7 | Im7 | Im7 | Im7', 'Im7 | IVm7 | Im7 | Im7', 'Im7 | IIm7b5 V7 | Im7 | Im7'],
          ['IVm7 | IVm7 | Im7 | Im7'],
          ['bVI7 | V7 | Im7 | V7', 'IIm7b5 | V7 | Im7 | IIm7b5 V7'],
        ],
      },
      {
        scale: 'blues',
        styles: ['shuffle', 'funk'],
        metres: ['4/4'],
        parts: [
          ['I7 | IV7 | I7 | Vm7 I7', 'I7 | IV7 | I7 | I7'],
          ['IV7 | IV7 | I7 | VI7', 'IV7 | IV7 | I7 | IIIm7 VI7'],
          ['IIm7 | V7 | I7 VI7 | IIm7 V7', 'IIm7 | V7 | I7 | V7'],
        ],
      },
    ],
  },
  {
    tonics: WIDE,
    tempo: [100, 152],
    forms: [
      {
        scale: 'major',
        styles: ['latin', 'shuffle', 'ballad'],
        metres: ['4/4'],
        parts: [
          [
            'Imaj7 | #IVm7b5 VII7 | IIIm7 VI7 | IIm7 V7',
            'Imaj9 | bVII9 | Imaj7 | VI7',
            'Imaj7 VI7 | IIm7 V7 | IIIm7 VI7 | IIm7 V7',
          ],
          ['IVmaj7 | IVm7 bVII7 | IIIm7 | VI7', 'Vm7 I7 | IVmaj7 | IVm6 | Imaj7 VI7'],
          ['IIm9 | V9 | Imaj7 VI7 | IIm7 V7', 'II7 | IIm7 V7 | Imaj7 bIIImaj7 | bVImaj7 bII7'],
        ],
      },
    ],
  },
];
