export { LONGEST_SEC, louderChannel, readWav, type Wav } from './read.ts';
export { writeWav } from './write.ts';
