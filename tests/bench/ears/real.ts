import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { louderChannel, readWav } from '../../../src/exchange/index.ts';
import { f1, matchNotes, tally, timing } from '../../support/fixtures/note-metrics.ts';
import type { Take } from '../../../audio-fixtures/index.ts';
import type { BenchListener } from './listener.ts';

/**
 * Real recordings beside a note list of the same name (`a.wav`, `a.json`): `{notes: [{onset, midi,
 * confirmed?}]}`, seconds and MIDI numbers. With `confirmed` marks the list is a machine's: it says where
 * several detectors agreed and gives no accuracy; without them it is taken for truth.
 */
interface Listed {
  readonly onset: number;
  readonly midi: number;
  readonly confirmed?: boolean;
}

function load(folder: string, file: string): { take: Take; listed: readonly Listed[] } {
  const wav = readWav(readFileSync(join(folder, file)));
  const { notes } = JSON.parse(readFileSync(join(folder, file.replace(/\.wav$/, '.json')), 'utf8')) as {
    notes: Listed[];
  };
  const take: Take = {
    id: file,
    family: 'real',
    bank: 'real',
    instrument: 'guitar',
    seed: 0,
    sampleRate: wav.sampleRate,
    signal: louderChannel(wav),
    truth: [],
    tuningCents: 0,
    noises: [],
  };
  return { take, listed: notes };
}

/** One line a recording and listener: notes heard, listed ones found, and F1 where the list is truth. */
export async function realTable(folder: string, listeners: readonly BenchListener[]): Promise<string[]> {
  const out = [
    'recording                          listener                 heard  found of  F ±50  bias  spr.',
  ];
  for (const file of readdirSync(folder).filter((name) => name.endsWith('.wav'))) {
    const { take, listed } = load(folder, file);
    const machine = listed.some((note) => note.confirmed !== undefined);
    const sought = listed
      .filter((note) => note.confirmed ?? true)
      .map(({ onset, midi }) => ({ onsetSec: onset, midi }));
    for (const listener of listeners) {
      const { notes } = await listener.hear(take);
      const found = matchNotes(sought, notes, 0.05).filter((h) => h >= 0).length;
      const counts = tally(sought, notes);
      const t = timing(counts);
      out.push(
        [
          file.slice(0, 34).padEnd(34),
          listener.name.padEnd(24),
          String(notes.length).padStart(5),
          String(found).padStart(6),
          String(sought.length).padStart(2),
          (machine ? '–' : (f1(counts.hits50, counts)?.toFixed(3) ?? '–')).padStart(6),
          (t ? (1000 * t.biasSec).toFixed(1) : '–').padStart(5),
          (t ? (1000 * t.spreadSec).toFixed(1) : '–').padStart(5),
        ].join(' '),
      );
    }
  }
  return out;
}
