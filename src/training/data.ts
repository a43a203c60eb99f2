import { writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';

const DSP = resolve(import.meta.dirname, '../dsp');

/** A long list of numbers, and how many spaces a nested one stands in. */
const shortRows = (text: string): string =>
  text.replace(/\[[^[\]{}]*\]/g, (row) => row.replace(/\s+/g, ' ').replace('[ ', '[').replace(' ]', ']'));

/**
 * Writes what was fitted as a data file of `src/dsp`: JSON, whose numbers are read back to the last bit.
 * @param made which command, on how many examples
 */
export function writeData(path: string, made: string, data: object): void {
  writeFileSync(join(DSP, path), `${shortRows(JSON.stringify({ made, ...data }, null, 2))}\n`);
}
