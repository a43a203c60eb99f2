/** Parts of whole pieces, from files of notation programs. */
export type { ImportedPiece, PieceOptions } from './build.ts';
export { pieceFromMidi } from './readMidi.ts';
export { pieceFromMusicXml, TwoVoices } from './readXml.ts';
