/** The door of exchange: tests and takes in open formats. No DOM. */
export { ExchangeError } from './error.ts';
export { LONGEST_SEC, louderChannel, readWav, writeWav, type Wav } from './wav/index.ts';
