import type { Style } from '../style.ts';

/** Latin: clave, hand drums answering it, an anticipating bass. Patterns are the traditional ones. */
export const latin: Style = {
  name: 'latin',
  force: 0.85,
  sevenths: false,
  turns: { major: [0, 5, 7, 0], minor: [0, 5, 7, 0] },
  cells: {
    '4/4': {
      drums: {
        clave: 'x..x..x...x.x...',
        congaHigh: '....x.......o...',
        congaLow: '..............xx',
        shaker: 'x.o.x.o.x.o.x.o.',
      },
      bass: 'R-----5-----8---',
      chords: 'x-..x-..x-..x-..',
    },
    '3/4': {
      drums: {
        clave: 'x.....x.....',
        congaHigh: '....x.......',
        congaLow: '........x.x.',
        shaker: 'x.o.x.o.x.o.',
      },
      bass: 'R-----5-8---',
      chords: 'x-..x-..x-..',
    },
    '2/4': {
      drums: { clave: 'x..x..x.', congaHigh: '....x...', congaLow: '......xx', shaker: 'x.o.x.o.' },
      bass: 'R-----5-',
      chords: 'x-..x-..',
    },
    '1/4': { drums: { congaLow: 'x...', shaker: 'x.o.' }, bass: 'R---', chords: 'x-..' },
    '6/8': {
      drums: {
        clave: 'x...x.....x.',
        congaHigh: '......x.....',
        congaLow: '........x.x.',
        shaker: 'x.o.o.x.o.o.',
      },
      bass: 'R-----5---8-',
      chords: 'x-..x-..x-..',
    },
    '3/8': {
      drums: { congaHigh: '....x.', clave: 'x.....', shaker: 'x.o.o.' },
      bass: 'R---5-',
      chords: 'x-..x-',
    },
    '2/8': { drums: { clave: 'x...', shaker: 'x.o.' }, bass: 'R---', chords: 'x-..' },
  },
};
