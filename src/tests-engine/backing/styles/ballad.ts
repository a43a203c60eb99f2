import type { Style } from '../style.ts';

/** Ballad: rim on the backbeat, long chords, a bass in minims. */
export const ballad: Style = {
  name: 'ballad',
  force: 0.75,
  sevenths: false,
  turns: { major: [0, 9, 5, 7], minor: [0, 8, 5, 10] },
  cells: {
    '4/4': {
      drums: { kick: 'X.......x.......', rim: '....x.......x...', hat: 'o.o.o.o.o.o.o.o.' },
      bass: 'R-------5-------',
      chords: 'X---------------',
    },
    '3/4': {
      drums: { kick: 'X...........', rim: '........x...', hat: 'o...o...o...' },
      bass: 'R-------5---',
      chords: 'X-----------',
    },
    '2/4': {
      drums: { kick: 'X.......', rim: '....x...', hat: 'o.o.o.o.' },
      bass: 'R-------',
      chords: 'X-------',
    },
    '1/4': { drums: { kick: 'x...', hat: 'o...' }, bass: 'R---', chords: 'X---' },
    '6/8': {
      drums: { kick: 'X...........', rim: '......x.....', hat: 'o.o.o.o.o.o.' },
      bass: 'R-----5-----',
      chords: 'X-----------',
    },
    '3/8': { drums: { kick: 'X.....', hat: 'o.o.o.' }, bass: 'R-----', chords: 'X-----' },
    '2/8': { drums: { kick: 'x...', hat: 'o.o.' }, bass: 'R---', chords: 'X---' },
  },
};
