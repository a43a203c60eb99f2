import type { Style } from '../style.ts';
import { styleNamed } from '../styles.ts';
import type { CellName } from '../style.ts';
import type { Groove, GrooveCell } from './groove.ts';

/** A style's cells, each of one bar and so without a variant. */
const plainCells = (style: Style): Record<CellName, readonly GrooveCell[]> =>
  Object.fromEntries(Object.entries(style.cells).map(([name, cell]) => [name, [cell]])) as unknown as Record<
    CellName,
    readonly GrooveCell[]
  >;

const rock = styleNamed('rock');
const shuffle = styleNamed('shuffle');
const funk = styleNamed('funk');
const ballad = styleNamed('ballad');
const reggae = styleNamed('reggae');
const latin = styleNamed('latin');

/**
 * The six grooves of the present arranger. Patterns are the trade's everyday ones (common practice, no source):
 * straight quavers under a back-beat; a bass walking through the chord over swung cymbals; a syncopated bass and
 * chords between the beats; held chords with single notes above; chords on every off-beat over a drop on 2 and 4;
 * clave, an anticipating bass and a syncopated chord figure.
 */
export const GROOVES: readonly Groove[] = [
  {
    name: 'rock',
    fullness: 'triads',
    voice: 'rhythmGuitar',
    bassLeads: true,
    chordForce: 0.6,
    underGuitar: 0.82,
    force: 0.75,
    cells: {
      ...plainCells(rock),
      '4/4': [
        {
          drums: { kick: 'X.......X.x.....', snare: '....X.......X...', hat: 'x.o.x.o.x.o.x.o.' },
          bass: 'R-r-R-r-R-r-R-r-',
          chords: 'X-----x-X---x---',
        },
        {
          drums: { kick: 'X..x....X.x...x.', snare: '....X.......X..o', hat: 'x.o.x.o.x.o.x.o.' },
          bass: 'R-r-R-5-R-r-8-5-',
          chords: 'X-----x-X-x---x-',
        },
      ],
      '3/4': [
        {
          drums: { kick: 'X.....x.....', snare: '........X...', hat: 'x.o.x.o.x.o.' },
          bass: 'R-r-R-r-5-r-',
          chords: 'X-----x-x---',
        },
        {
          drums: { kick: 'X.......x...', snare: '....x.....X.', hat: 'x.o.x.o.x.o.' },
          bass: 'R-r-5-r-8-5-',
          chords: 'X-------x-x-',
        },
      ],
      '6/8': [
        {
          drums: { kick: 'X.........x.', snare: '......X.....', hat: 'x.o.o.x.o.o.' },
          bass: 'R---r-R---5-',
          chords: 'X-----x---x-',
        },
        {
          drums: { kick: 'X...x.......', snare: '......X...o.', hat: 'x.o.o.x.o.o.' },
          bass: 'R---5-8---5-',
          chords: 'X---x-x-----',
        },
      ],
    },
  },
  {
    name: 'shuffle',
    fullness: 'blues',
    voice: 'keys',
    bassLeads: true,
    chordForce: 0.7,
    underGuitar: 0.6,
    force: 0.95,
    cells: {
      ...plainCells(shuffle),
      '4/4': [
        {
          drums: { kick: 'X...x...X...x...', snare: '....X.......X...', ride: 'x...x.o.x...x.o.' },
          bass: 'R---3---5---6---',
          chords: 'X-----x-....x---',
        },
        {
          drums: { kick: 'X...x...X...x.x.', snare: '....X..o....X...', ride: 'x...x.o.x...x.o.' },
          bass: '8---7---6---5---',
          chords: '....x-x-....X---',
        },
      ],
      '6/8': [
        {
          drums: { kick: 'X.....x.....', snare: '......X.....', ride: 'x...o.x...o.' },
          bass: 'R---3-5---6-',
          chords: 'X---x-....x-',
        },
        {
          drums: { kick: 'X.....x...x.', snare: '......X.....', ride: 'x...o.x...o.' },
          bass: '8---6-5---3-',
          chords: 'x---..X---x-',
        },
      ],
    },
  },
  {
    name: 'funk',
    fullness: 'sevenths',
    voice: 'rhythmGuitar',
    bassLeads: false,
    chordForce: 0.7,
    underGuitar: 0.82,
    force: 0.8,
    cells: {
      ...plainCells(funk),
      '4/4': [
        {
          drums: { kick: 'X.....x...x.....', snare: '....X..o.o..X...', hat: 'xoxoxoxoxoxoxoxo' },
          bass: 'R-..r.8-..R-5-7.',
          chords: '..x-x-.x..x-..x-',
        },
        {
          drums: { kick: 'X..x......x..x..', snare: '....X..o.o..X..o', hat: 'xoxoxoxoxoxoxoxo' },
          bass: 'R-.r..5-8-..7-5.',
          chords: '....x-.xx-..x-x-',
        },
      ],
    },
  },
  {
    name: 'ballad',
    fullness: 'sevenths',
    voice: 'keys',
    bassLeads: true,
    chordForce: 0.9,
    underGuitar: 0.95,
    force: 0.75,
    cells: {
      ...plainCells(ballad),
      '4/4': [
        {
          drums: { kick: 'X.......x.......', rim: '....x.......x...', hat: 'o.o.o.o.o.o.o.o.' },
          bass: 'R-----R-5-----5-',
          chords: 'X-------x-------',
          upper: '....2---....3---',
        },
        {
          drums: { kick: 'X.....x.x.......', rim: '....x.......x...', hat: 'o.o.o.o.o.o.o.oo' },
          bass: 'R-----5-3---5---',
          chords: 'X-------x-------',
          upper: '....3-2-....2---',
        },
      ],
      '3/4': [
        {
          drums: { kick: 'X...........', rim: '........x...', hat: 'o...o...o...' },
          bass: 'R-------5---',
          chords: 'X-----------',
          upper: '....2---3---',
        },
        {
          drums: { kick: 'X.......x...', rim: '....x.......', hat: 'o...o.o.o...' },
          bass: 'R-----3-5---',
          chords: 'X-----------',
          upper: '....3---2---',
        },
      ],
      '6/8': [
        {
          drums: { kick: 'X...........', rim: '......x.....', hat: 'o.o.o.o.o.o.' },
          bass: 'R-----5-----',
          chords: 'X-----------',
          upper: '..2-3-..3-2-',
        },
        {
          drums: { kick: 'X.........x.', rim: '......x.....', hat: 'o.o.o.o.o.o.' },
          bass: 'R---5-8---5-',
          chords: 'X-----------',
          upper: '..3-2-..2-3-',
        },
      ],
    },
  },
  {
    name: 'reggae',
    fullness: 'triads',
    voice: 'rhythmGuitar',
    bassLeads: false,
    chordForce: 0.85,
    underGuitar: 0.85,
    compsOverRhythm: true,
    force: 0.85,
    cells: {
      ...plainCells(reggae),
      '4/4': [
        {
          drums: { kick: '....X.......X...', rim: '....x.......x...', hat: 'x.o.x.o.x.o.x.o.' },
          bass: 'R---..5-R-3-....',
          chords: '..x-..x-..x-..x-',
        },
        {
          drums: { kick: '....X.......X...', rim: '....x..x....x...', hat: 'x.o.x.o.x.o.x.oo' },
          bass: 'R-..3-5-..8-5-..',
          chords: '..x-..x-..x-.xx-',
        },
      ],
    },
  },
  {
    name: 'latin',
    fullness: 'sevenths',
    voice: 'keys',
    bassLeads: false,
    chordForce: 0.95,
    underGuitar: 0.72,
    force: 0.85,
    cells: {
      ...plainCells(latin),
      '4/4': [
        {
          drums: {
            clave: 'x..x..x...x.x...',
            congaHigh: '....x.......o...',
            congaLow: '..............xx',
            shaker: 'x.o.x.o.x.o.x.o.',
          },
          bass: 'R-----5-----^---',
          chords: 'x-.x-.x-.x-.x-..',
        },
        {
          drums: {
            clave: '..x.x...x..x..x.',
            congaHigh: '....x.....o.x...',
            congaLow: '..............xx',
            shaker: 'x.o.x.o.x.o.x.o.',
          },
          bass: 'R-----5---8-^---',
          chords: 'x-x-.x-.x-.x-.x-',
        },
      ],
    },
  },
];

/** The groove of that name. Throws RangeError for one that is none. */
export function grooveNamed(name: string): Groove {
  const groove = GROOVES.find((g) => g.name === name);
  if (!groove)
    throw new RangeError(
      `no backing style is called "${name}"; there are ${GROOVES.map((g) => g.name).join(', ')}`,
    );
  return groove;
}
