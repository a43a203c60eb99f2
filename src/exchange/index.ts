/** The door of exchange: tests and takes in open formats. No DOM. */
export { BeyondInstrument, ExchangeError } from './error.ts';
export { bracketCounter, type Brackets } from './brackets.ts';
export { readTable, TableError, writeTable } from './csv/index.ts';
export { energyOf, readFrames, readLayout, type WavLayout } from './wav/index.ts';
export { louderChannel, readWav, writeWav, type Wav } from './wav/index.ts';
export { joined, TooLong } from './joined.ts';
export { fromBase64Url, toBase64Url } from './link/base64url.ts';
export { fromListCode, isListCode, listCode } from './link/index.ts';
export { codeFromFigures, codeInFigures, isInFigures } from './link/index.ts';
export { testFromWholeCode, testFromHash, testLink, wholeCode } from './link/index.ts';
export { testFromMidi, testToMidi } from './midi/index.ts';
export { testFromMusicXml, testToMusicXml } from './musicxml/index.ts';
export { pieceFromMidi, pieceFromMusicXml, TwoVoices } from './piece/index.ts';
export type { ImportedPiece, PieceOptions } from './piece/index.ts';
export { titleIn } from './phrase/title.ts';
export type { ImportOptions } from './phrase/build.ts';
export { qrCode, type QrCode } from './qr/qr.ts';
export { calendarFile, type CalendarDay } from './calendar/index.ts';
