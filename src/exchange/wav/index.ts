export { energyOf, readFrames, readLayout, type WavLayout } from './layout.ts';
export { louderChannel, readWav, type Wav } from './read.ts';
export { writeWav } from './write.ts';
