import type { Style } from '../style.ts';

/** Funk: semiquaver hi-hat, a syncopated bass with holes in it, short chords away from the beat. */
export const funk: Style = {
  name: 'funk',
  force: 0.95,
  sevenths: true,
  turns: { major: [0, 0, 5, 0], minor: [0, 0, 5, 0] },
  cells: {
    '4/4': {
      drums: { kick: 'X.....x...x.....', snare: '....X..o.o..X...', hat: 'xoxoxoxoxoxoxoxo' },
      bass: 'R-....8-..R-5-..',
      chords: '....x-....x.....',
    },
    '3/4': {
      drums: { kick: 'X.....x.....', snare: '....X..o....', hat: 'xoxoxoxoxoxo' },
      bass: 'R-....8-..5-',
      chords: '....x-......',
    },
    '2/4': {
      drums: { kick: 'X.....x.', snare: '....X..o', hat: 'xoxoxoxo' },
      bass: 'R-....8-',
      chords: '....x-..',
    },
    '1/4': { drums: { kick: 'X...', hat: 'xoxo' }, bass: 'R-..', chords: '..x.' },
    '6/8': {
      drums: { kick: 'X.......x...', snare: '......X....o', hat: 'xoxoxoxoxoxo' },
      bass: 'R-....8-..5-',
      chords: '....x-..x-..',
    },
    '3/8': { drums: { kick: 'X.....', snare: '....x.', hat: 'xoxoxo' }, bass: 'R-..8-', chords: '..x-..' },
    '2/8': { drums: { kick: 'X...', hat: 'xoxo' }, bass: 'R-..', chords: '..x-' },
  },
};
