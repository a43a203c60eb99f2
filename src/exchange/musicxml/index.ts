export { testFromMusicXml } from './read.ts';
export { testToMusicXml } from './write.ts';
