import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { hearTake } from '../../../src/dsp/index.ts';
import type { HeardReason } from '../../../src/music/notes.ts';
import { markTake, type PlayedNote } from '../../../src/tests-engine/index.ts';
import { loadBanks, makeTake } from '../../../audio-fixtures/index.ts';
import { writtenFor } from './realSound.ts';

/** Melodies and as many rhythms, on seeds that nothing was tuned on; the long way 1 of 504 is 0.2 %. */
const EACH = 42;
const EACH_LONG = 252;
const FIRST_SEED = 700_000;
/** Hearing them takes minutes: the notes heard are kept for as long as the listener is the same. */
const CACHE = `.cache/bench/clean-takes-${listener()}`;

/** Name of the listener's code as it stands. */
function listener(): string {
  const hash = createHash('sha256');
  const files = readdirSync('src/dsp', { recursive: true, encoding: 'utf8' });
  for (const file of files.filter((name) => name.endsWith('.ts')).sort())
    hash.update(readFileSync(join('src/dsp', file)));
  return hash.digest('hex').slice(0, 12);
}

interface Clean {
  readonly id: string;
  readonly refused: HeardReason | null;
  readonly truth: readonly PlayedNote[];
  readonly heard: readonly PlayedNote[];
}

async function cleanTakes(each: number): Promise<Clean[]> {
  const cache = `${CACHE}-${each}.json`;
  if (existsSync(cache)) return JSON.parse(readFileSync(cache, 'utf8')) as Clean[];
  const { all } = await loadBanks('npm');
  const found: Clean[] = [];
  for (const family of ['mel', 'rhy'] as const)
    for (let k = 0; k < each; k++) {
      const order = {
        family,
        seed: FIRST_SEED + k,
        bank: all[k % all.length]!,
        sampleRate: k % 3 === 2 ? 48_000 : 44_100,
      };
      const take = makeTake(order);
      const { notes, heard } = hearTake(take.signal, take.sampleRate, { instrument: take.instrument });
      found.push({
        id: take.id,
        refused: heard.verdict === 'refused' ? heard.reason : null,
        truth: take.truth.map(({ onsetSec, midi }) => ({ onsetSec, midi })),
        heard: notes.map(({ onsetSec, midi, confidence }) => ({ onsetSec, midi, confidence })),
      });
    }
  mkdirSync(dirname(cache), { recursive: true });
  writeFileSync(cache, JSON.stringify(found));
  return found;
}

/** On clean takes hardly any mark is a range, and none is withheld: played as written, and with mistakes. */
export async function cleanRanges(long: boolean): Promise<void> {
  const takes = await cleanTakes(long ? EACH_LONG : EACH);
  console.log(`\n## Clean takes of real recorded notes (${takes.length}, seeds from ${FIRST_SEED})\n`);
  console.log('| | goal | played as written | with mistakes |\n|---|---|---|---|');
  const marks = [false, true].map((mistakes) =>
    takes.map(({ id, truth, heard }, k) => {
      const written = mistakes ? writtenFor(truth, k + 1) : truth;
      const rhythm = id.startsWith('rhy');
      return markTake({
        target: rhythm ? written.map(({ onsetSec }) => ({ onsetSec })) : written,
        played: heard,
        clock: 'backing',
        transposition: 'none',
      });
    }),
  );
  const row = (name: string, goal: string, value: (list: (typeof marks)[0]) => string): void =>
    console.log(`| ${name} | ${goal} | ${marks.map(value).join(' | ')} |`);
  const share = (list: readonly boolean[]): string =>
    `${list.filter(Boolean).length} (${((100 * list.filter(Boolean).length) / list.length).toFixed(1)} %)`;
  row('refused by the listener', '0', () => share(takes.map((t) => t.refused !== null)));
  row('no mark given', '0', (list) => share(list.map((m) => m.mark === null)));
  row('given as a range', '≤ 2 %', (list) => share(list.map((m) => m.range !== null)));
  const tenth = (list: (typeof marks)[0]): string => {
    const sorted = list.map((m) => m.mark ?? 0).sort((a, b) => a - b);
    return `${sorted[0]} … ${sorted[Math.floor(sorted.length / 10)]} … ${sorted[sorted.length >> 1]}`;
  };
  row('mark: least, 10 %, median', '', tenth);
  takes.forEach(({ id }, k) => {
    if (marks.some((list) => list[k]!.range !== null || list[k]!.mark === null))
      console.log(`  ${id}: ${marks.map((list) => list[k]!.range?.join('…') ?? list[k]!.mark).join(', ')}`);
  });
}
