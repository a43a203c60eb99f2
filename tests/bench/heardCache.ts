import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { hearTake } from '../../src/dsp/index.ts';
import type { HeardReason } from '../../src/music/notes.ts';
import type { Take } from '../../audio-fixtures/index.ts';

export interface HeardNotes {
  readonly refused: HeardReason | null;
  readonly notes: readonly {
    readonly onsetSec: number;
    readonly midi: number;
    readonly levelDb: number;
    readonly confidence: number;
  }[];
}

/** What single notes are neither heard nor made by. */
const APART = /chords\/|latency\/|index\.ts$/;

/** Name of the listener's code, and of what takes are made by, as they stand. */
function codeHash(): string {
  const hash = createHash('sha256');
  for (const folder of ['src/dsp', 'audio-fixtures'])
    for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort())
      if (name.endsWith('.ts') && !APART.test(name)) hash.update(readFileSync(join(folder, name)));
  return hash.digest('hex').slice(0, 12);
}

/**
 * Hears takes, each only once as long as listener and recipes are the same: hearing hundreds takes minutes.
 * @param name of the bench; @param key names a take and everything it is made from.
 */
export function heardCache(name: string): (key: string, make: () => Take) => HeardNotes {
  const folder = join('.cache/bench', `${name}-${codeHash()}`);
  mkdirSync(folder, { recursive: true });
  return (key, make) => {
    const file = join(folder, `${createHash('sha256').update(key).digest('hex').slice(0, 20)}.json`);
    if (existsSync(file)) return JSON.parse(readFileSync(file, 'utf8')) as HeardNotes;
    const take = make();
    const { notes, heard } = hearTake(take.signal, take.sampleRate, { instrument: take.instrument });
    const kept: HeardNotes = {
      refused: heard.verdict === 'refused' ? heard.reason : null,
      notes: notes.map(({ onsetSec, midi, levelDb, confidence }) => ({
        onsetSec,
        midi,
        levelDb,
        confidence,
      })),
    };
    writeFileSync(file, JSON.stringify(kept));
    return kept;
  };
}
