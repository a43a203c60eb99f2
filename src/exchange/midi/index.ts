export { isMidi } from './isMidi.ts';
export { testFromMidi } from './read.ts';
export { testToMidi } from './write.ts';
