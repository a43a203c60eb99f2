import type { Style } from '../style.ts';

/** Straight rock: backbeat, driving quavers in the bass, held chords. */
export const rock: Style = {
  name: 'rock',
  force: 1,
  sevenths: false,
  turns: { major: [0, 5, 0, 7], minor: [0, 10, 8, 10] },
  cells: {
    '4/4': {
      drums: { kick: 'X.......X.x.....', snare: '....X.......X...', hat: 'x.o.x.o.x.o.x.o.' },
      bass: 'R-r-R-r-R-r-R-8-',
      chords: 'X-------x-------',
    },
    '3/4': {
      drums: { kick: 'X.....x.....', snare: '........X...', hat: 'x.o.x.o.x.o.' },
      bass: 'R-r-R-r-R-5-',
      chords: 'X-----------',
    },
    '2/4': {
      drums: { kick: 'X.......', snare: '....X...', hat: 'x.o.x.o.' },
      bass: 'R-r-R-r-',
      chords: 'X-------',
    },
    '1/4': { drums: { kick: 'x...', hat: 'x.o.' }, bass: 'R-r-', chords: 'x---' },
    '6/8': {
      drums: { kick: 'X.........x.', snare: '......X.....', hat: 'x.o.o.x.o.o.' },
      bass: 'R---r-R---5-',
      chords: 'X-----------',
    },
    '3/8': { drums: { kick: 'X.....', snare: '....x.', hat: 'x.o.o.' }, bass: 'R---r-', chords: 'X-----' },
    '2/8': { drums: { kick: 'X...', hat: 'x.o.' }, bass: 'R-r-', chords: 'X---' },
  },
};
