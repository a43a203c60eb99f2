import { attackIndex } from '../../../audio-fixtures/index.ts';
import type { BankName } from '../../../audio-fixtures/index.ts';
import { CHORD_BANKS } from '../../../audio-fixtures/chords/index.ts';
import { HIGHEST, LOWEST, PARTIALS } from '../../dsp/chords/constants.ts';
import { partialLevels } from '../../dsp/chords/partials.ts';
import { strumSpectrum } from '../../dsp/chords/strumSpectrum.ts';
import { allBanks } from '../banks.ts';
import { writeData } from '../data.ts';
import { toWorkRate } from '../../dsp/hear/toWorkRate.ts';

/** Recorded notes speak for their neighbours: weights fall off over so many semitones … */
const SPREAD = 4;
/** … and no partial is expected lower than this under its note. */
const LEAST_DB = -55;
/** A recording's level at a partial under its floor is worth nothing below it. */
const SOUND_SEC = 0.6;

/** Mean level of each partial of each note re the note's total, over the recorded notes of the fit's instruments. */
async function meanLevels(): Promise<{ rows: number[][]; notes: number }> {
  const all = await allBanks();
  const measured: { midi: number; db: number[] }[] = [];
  for (const bank of all.filter(({ name }) => CHORD_BANKS.fit.includes(name as BankName)))
    for (const note of bank.notes) {
      const midi = Math.round(note.midi);
      if (midi < LOWEST || midi > HIGHEST) continue;
      const pcm = toWorkRate(note.pcm, note.sampleRate);
      const attack = attackIndex(pcm.subarray(0, 17_640), 44_100);
      const spectrum = strumSpectrum(pcm, attack, attack + Math.round(SOUND_SEC * 44_100));
      const { count, db } = partialLevels(spectrum, midi, 100 * (note.midi - midi));
      let total = 0;
      for (let i = 0; i < count; i++) total += 10 ** (db[i]! / 10);
      const totalDb = 10 * Math.log10(total);
      measured.push({
        midi,
        db: Array.from({ length: count }, (_, i) => Math.max(LEAST_DB, db[i]! - totalDb)),
      });
    }
  const rows = Array.from({ length: HIGHEST - LOWEST + 1 }, (_, row) =>
    Array.from({ length: PARTIALS }, (_x, n) => {
      let sum = 0;
      let weights = 0;
      for (const { midi, db } of measured) {
        if (db[n] === undefined) continue;
        const weight = Math.exp(-0.5 * ((midi - LOWEST - row) / SPREAD) ** 2);
        sum += weight * db[n];
        weights += weight;
      }
      return weights > 0 ? Math.round((10 * sum) / weights) / 10 : LEAST_DB;
    }),
  );
  return { rows, notes: measured.length };
}

/** Writes `src/dsp/chords/fitted/levels.json`. */
export async function writeLevels(): Promise<void> {
  const { rows, notes } = await meanLevels();
  writeData(
    'chords/fitted/levels.json',
    `Fitted by \`npm run fit -- chords\` over ${notes} recorded notes.`,
    {
      levelsDb: rows,
    },
  );
}
