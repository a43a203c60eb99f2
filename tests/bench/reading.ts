import { loadBanks, playPlan } from '../../audio-fixtures/index.ts';
import { feltBeats } from '../../src/music/metre.ts';
import { ticksToSec, bpm } from '../../src/music/units.ts';
import {
  READING_LEVELS,
  makePage,
  markTake,
  readingDifficulty,
  targetOf,
  type Mark,
  type ReadingPage,
} from '../../src/tests-engine/index.ts';
import { findTake, readingPlaces, type ReadingEvent } from '../../src/tests-engine/marks/reading/index.ts';
import { figuresOf } from './figures.ts';
import { heardCache, type HeardNotes } from './heardCache.ts';
import { type Performance, type ReaderKind, readPage } from './reading/readers.ts';
import { fftMicroseconds } from './yardstick.ts';

/**
 * The reading ladder, and simulated readers of real recorded notes: heard, found, marked, and told what happened where.
 *
 *   npm run bench:reading -- [--ladder] [--dry]
 *
 * `--ladder`: the ladder alone; `--dry`: the notes that were played instead of the notes that were heard.
 */

/** How many takes of each kind: 200 in all. Seeds on which nothing was tuned. */
const TAKES: readonly (readonly [ReaderKind, click: number, own: number])[] = [
  ['clean', 35, 35],
  ['hesitates', 10, 10],
  ['goesBack', 15, 20],
  ['leavesOut', 15, 15],
  ['drifts', 0, 20],
  ['falseStart', 5, 10],
  ['stops', 5, 5],
];
const FIRST_SEED = 640_000;
const PAGES = 500;

function ladder(): void {
  console.log('\n## Reading difficulty (500 pages a level)\n');
  console.log(
    '| level | mean | 5 % | 50 % | 95 % | harder than a page of the next level |\n|---|---|---|---|---|---|',
  );
  const levels = READING_LEVELS.map((_, i) =>
    Array.from({ length: PAGES }, (_, seed) =>
      readingDifficulty(makePage(i + 1, { seed, instrument: seed % 2 ? 'bass' : 'guitar' })),
    )
      .map(({ total }) => total)
      .sort((a, b) => a - b),
  );
  levels.forEach((values, i) => {
    const at = (share: number): string => values[Math.floor(share * (PAGES - 1))]!.toFixed(1);
    const next = levels[i + 1];
    const turned =
      next && values.reduce((sum, d) => sum + next.filter((other) => other < d).length, 0) / PAGES ** 2;
    const mean = values.reduce((sum, d) => sum + d, 0) / PAGES;
    console.log(
      `| ${i + 1} | ${mean.toFixed(1)} | ${at(0.05)} | ${at(0.5)} | ${at(0.95)} | ${turned === undefined ? '' : `${(100 * turned).toFixed(2)} %`} |`,
    );
  });
}

interface Read {
  readonly performance: Performance;
  readonly mark: Mark;
  readonly falseStarts: number;
  readonly events: readonly ReadingEvent[];
  readonly refused: boolean;
}

export function markRead(
  page: ReadingPage,
  performance: Performance,
  level: number,
  heard: HeardNotes,
): Read {
  const { click, zeroSec } = performance;
  const { phrase, tempoBpm } = page;
  const target = targetOf(phrase, { tempoBpm, swing: 0.5 });
  const beatSec = (60 / tempoBpm) * (4 / phrase.metre.beatUnit);
  const feltBeatSec = ticksToSec(feltBeats(phrase.metre)[1] ?? 480, bpm(tempoBpm));
  const played = heard.notes
    .map((note) => ({ ...note, onsetSec: note.onsetSec - (click ? zeroSec : 0) }))
    .filter(({ onsetSec }) => !click || onsetSec > -0.5 * beatSec);
  const request = {
    target,
    played,
    transposition: 'none',
    beatSec,
    beatsPerBar: phrase.metre.beats,
    level,
  } as const;
  const found = click ? null : findTake({ ...request, clock: 'free' });
  const mark = found?.mark ?? markTake({ ...request, clock: 'backing' });
  const events = readingPlaces({
    target,
    played: played.slice(0, found?.to),
    mark,
    beatSec,
    feltBeatSec,
    beatsPerBar: phrase.metre.beats,
    bars: phrase.bars,
  });
  return { performance, mark, events, falseStarts: found?.falseStarts ?? 0, refused: heard.refused !== null };
}

async function readers(dry: boolean): Promise<void> {
  const { all } = await loadBanks('npm');
  const hear = heardCache('reading');
  console.log(`\n## Simulated readers, ${dry ? 'notes as played' : 'real recorded notes'}\n`);
  console.log(
    '| reader | clock | takes | mark: least, 1 %, median | ≥ 97 | named at the right bar | other events |\n|---|---|---|---|---|---|---|',
  );
  const wants: Partial<Record<ReaderKind, ReadingEvent['kind']>> = {
    goesBack: 'wentBack',
    leavesOut: 'leftOut',
    stops: 'stopped',
  };
  let seed = FIRST_SEED;
  for (const [kind, withClick, own] of TAKES)
    for (const click of [true, false]) {
      const reads: { read: Read; name: string }[] = [];
      for (let k = 0; k < (click ? withClick : own); k++, seed++) {
        const level = (seed % 10) + 1;
        const bank = all[seed % all.length]!;
        const page = makePage(level, { seed, instrument: bank.instrument });
        const performance = readPage(page, kind, click, seed);
        const heard = dry
          ? { refused: null, notes: performance.notes.map((n) => ({ ...n, confidence: 1 })) }
          : hear(JSON.stringify([performance.notes, bank.name, seed]), () =>
              playPlan({ notes: performance.notes, bank, seed, sampleRate: seed % 3 ? 44_100 : 48_000 }),
            );
        reads.push({
          read: markRead(page, performance, level, heard),
          name: `level ${level} seed ${seed} ${bank.name}`,
        });
      }
      if (reads.length > 0) row(kind, click, reads, wants[kind]);
    }
}

function row(
  kind: ReaderKind,
  click: boolean,
  reads: readonly { read: Read; name: string }[],
  want: ReadingEvent['kind'] | undefined,
): void {
  const marks = reads.map(({ read }) => read.mark.mark ?? -1).sort((a, b) => a - b);
  const named = ({ performance, events }: Read): boolean =>
    want === undefined || events.some((event) => event.kind === want && event.bar === performance.bar);
  const drift = ({ performance: { driftPercent: d }, events }: Read): boolean => {
    const told = events.find((event) => event.kind === 'drifted');
    // Between 6 and 10 % either answer is right.
    return Math.abs(d) > 10
      ? told !== undefined && told.percent * d > 0
      : Math.abs(d) > 6 || told === undefined;
  };
  const right = reads.filter(({ read }) => (kind === 'drifts' ? drift(read) : named(read)));
  const other = reads.filter(({ read }) =>
    read.events.some(
      (e) => e.kind !== want && e.kind !== 'drifted' && !(kind === 'hesitates' && e.kind === 'stopped'),
    ),
  );
  const share = (n: number): string => `${n} of ${reads.length}`;
  console.log(
    `| ${kind} | ${click ? 'click' : 'own tempo'} | ${reads.length} | ${marks[0]}, ${marks[Math.floor(marks.length / 100)]}, ${marks[marks.length >> 1]} | ${share(marks.filter((m) => m >= 97).length)} | ${want || kind === 'drifts' ? share(right.length) : kind === 'falseStart' && !click ? `${reads.filter(({ read }) => read.falseStarts === 1).length} false starts found` : ''} | ${share(other.length)} |`,
  );
  for (const { read, name } of reads)
    if (
      !right.some((r) => r.read === read) ||
      (kind === 'clean' && (read.mark.mark ?? 0) < 97) ||
      read.refused
    )
      console.log(
        `  ${name}: ${read.mark.mark} ${read.mark.reason ?? ''} ${JSON.stringify(read.mark.advice)} ${JSON.stringify(read.events)}${read.performance.bar ? ` true bar ${read.performance.bar}` : ''}`,
      );
}

figuresOf('reading', 'bench:reading');
console.log(`2048-point FFT ${fftMicroseconds().toFixed(0)} µs`);
ladder();
if (!process.argv.includes('--ladder')) await readers(process.argv.includes('--dry'));
