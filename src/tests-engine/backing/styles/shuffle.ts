import type { Style } from '../style.ts';

/** Blues shuffle: off-beats swung by the test's own swing, the bass walking root, third, fifth. */
export const shuffle: Style = {
  name: 'shuffle',
  force: 0.95,
  sevenths: true,
  turns: { major: [0, 5, 0, 7], minor: [0, 5, 0, 7] },
  cells: {
    '4/4': {
      drums: { kick: 'X...x...X...x...', snare: '....X.......X...', ride: 'x...x.o.x...x.o.' },
      bass: 'R---3---5---3---',
      chords: 'X-----..x-----..',
    },
    '3/4': {
      drums: { kick: 'X...........', snare: '....x...X...', ride: 'x...x.o.x.o.' },
      bass: 'R---3---5---',
      chords: 'X-----......',
    },
    '2/4': {
      drums: { kick: 'X.......', snare: '....X...', ride: 'x...x.o.' },
      bass: 'R---5---',
      chords: 'X-----..',
    },
    '1/4': { drums: { kick: 'x...', ride: 'x.o.' }, bass: 'R---', chords: 'X---' },
    '6/8': {
      drums: { kick: 'X...........', snare: '......X.....', ride: 'x...o.x...o.' },
      bass: 'R---r-5---3-',
      chords: 'X---..x---..',
    },
    '3/8': { drums: { kick: 'X.....', ride: 'x...o.' }, bass: 'R---r-', chords: 'X---..' },
    '2/8': { drums: { kick: 'X...', ride: 'x.o.' }, bass: 'R---', chords: 'X---' },
  },
};
