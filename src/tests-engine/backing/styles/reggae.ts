import type { Style } from '../style.ts';

/** Reggae: the drop on the second and fourth beats, short chords on every off-beat, a spacious bass. */
export const reggae: Style = {
  name: 'reggae',
  force: 0.85,
  sevenths: false,
  turns: { major: [0, 5, 7, 5], minor: [0, 5, 0, 10] },
  cells: {
    '4/4': {
      drums: { kick: '....X.......X...', rim: '....x.......x...', hat: 'x.o.x.o.x.o.x.o.' },
      bass: 'R-----5-R---....',
      chords: '..x...x...x...x.',
    },
    '3/4': {
      drums: { kick: '........X...', rim: '........x...', hat: 'x.o.x.o.x.o.' },
      bass: 'R-----5-....',
      chords: '..x...x...x.',
    },
    '2/4': {
      drums: { kick: '....X...', rim: '....x...', hat: 'x.o.x.o.' },
      bass: 'R---5-..',
      chords: '..x...x.',
    },
    '1/4': { drums: { kick: 'x...', hat: 'x.o.' }, bass: 'R-..', chords: '..x.' },
    '6/8': {
      drums: { kick: '......X.....', rim: '......x.....', hat: 'x.o.o.x.o.o.' },
      bass: 'R---5-R---..',
      chords: '..x.x...x.x.',
    },
    '3/8': { drums: { kick: '....x.', hat: 'x.o.o.' }, bass: 'R---..', chords: '..x.x.' },
    '2/8': { drums: { rim: 'x...', hat: 'x.o.' }, bass: 'R-..', chords: '..x.' },
  },
};
