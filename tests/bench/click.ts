import { loadBanks } from '../../audio-fixtures/index.ts';
import { makeScene, type Scene } from '../../audio-fixtures/bleed/scene.ts';
import { hearOverBacking, hearTake } from '../../src/dsp/index.ts';
import { ofNotes } from '../../src/tests-engine/marks/anyMark.ts';
import { handlerOf, markTask, takeOf } from '../../src/tests-engine/index.ts';
import type { ReadingTask, ScaleTask } from '../../src/music/task.ts';
import type { HeardTake } from '../../src/music/notes.ts';
import { cents, db, midi, sec } from '../../src/music/units.ts';
import { addTallies, f1, tally, type Tally } from '../support/fixtures/note-metrics.ts';
import { clickTask, soundClick } from './click/scene.ts';
import { figuresOf } from './figures.ts';
import { fftMicroseconds } from './yardstick.ts';

/**
 * Pages and scales played to a click over loudspeakers: how well they are heard and marked when the room was learnt from
 * so many seconds of the preparation's click, or from the count-in alone.
 *
 *   npm run bench:click -- [--takes 16] [--first 7000]
 */
figuresOf('click', 'bench:click');
const option = (name: string, usual: number): number =>
  Number(process.argv[process.argv.indexOf(`--${name}`) + 1]) || usual;
const takes = process.argv.includes('--takes') ? option('takes', 16) : 16;
const first = process.argv.includes('--first') ? option('first', 7000) : 7000;

/** At which the cancelling works; a recording at another rate is brought to it. */
const SAMPLE_RATE = 24_000;
/** Seconds of the preparation's click before the count; 0: none was sounded or waited for. */
const TRAININGS = [0, 4];
const BLEEDS_DB = [-10, 0, 6];
const RT60 = 0.4;
const LEAD_SEC = 0.15;

const { all } = await loadBanks('npm');
console.log(`2048-point FFT ${fftMicroseconds().toFixed(0)} µs`);
console.log(
  `\n${takes} takes a row, half pages and half scales; room of RT60 ${RT60} s, 2 cm moved while preparing\n`,
);
console.log(
  '| bleed | trained by | note F1, click left in | note F1 | mark within 1 of what was played | marks: median off, most | not marked | delay off, median, most ms |\n|---|---|---|---|---|---|---|---|',
);

/** What was played, as the ear would hand it on if it heard everything. */
const asHeard = (scene: Scene): HeardTake => ({
  tuningCents: cents(0),
  heard: { verdict: 'ok', reason: null, delayMs: scene.delaySec * 1000 },
  notes: scene.truth.map((note) => ({
    onsetSec: sec(note.onsetSec),
    offsetSec: sec(note.onsetSec + 0.2),
    midi: midi(note.midi),
    cents: cents(0),
    levelDb: db(-20),
    confidence: 1,
  })),
});

function markOf(task: ReadingTask | ScaleTask, take: HeardTake, scene: Scene): number | null {
  const latencySec = typeof take.heard.delayMs === 'number' ? take.heard.delayMs / 1000 : scene.delaySec;
  const own = takeOf(take, { beatOneSec: scene.fromSec, latencySec }, handlerOf(task).span(task as never));
  return ofNotes(markTask(task, own))?.mark ?? null;
}

interface Row {
  readonly plain: Tally;
  readonly over: Tally;
  /** Mark of what was heard less that of what was played; null: not marked. */
  readonly off: number | null;
  readonly delayMs: number;
}

async function one(number: number, trainingSec: number, bleedDb: number): Promise<Row> {
  const bank = all[number % all.length]!;
  const task = clickTask(number, bank.instrument);
  const sent = await soundClick(task, trainingSec, SAMPLE_RATE);
  const scene = makeScene(sent, bank, number, { bleedDb, rt60: RT60 });
  const { recording, reference, fromSec, truth } = scene;
  const { instrument, tuning } = task;
  const heard = hearOverBacking(recording, SAMPLE_RATE, { instrument, tuning, reference, fromSec });
  const from = Math.round((fromSec - LEAD_SEC) * SAMPLE_RATE);
  const plain = hearTake(recording.subarray(from), SAMPLE_RATE, { instrument, tuning });
  const late = plain.notes.map((n) => ({ ...n, onsetSec: n.onsetSec + from / SAMPLE_RATE }));
  const [was, is] = [markOf(task, asHeard(scene), scene), markOf(task, heard, scene)];
  return {
    plain: tally(truth, late),
    over: tally(truth, heard.notes),
    off: is === null || was === null ? null : is - was,
    delayMs:
      typeof heard.heard.delayMs === 'number' ? Math.abs(heard.heard.delayMs - scene.delaySec * 1000) : NaN,
  };
}

const middle = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? NaN;
for (const bleedDb of BLEEDS_DB)
  for (const trainingSec of TRAININGS) {
    const rows: Row[] = [];
    for (let number = first; number < first + takes; number++)
      rows.push(await one(number, trainingSec, bleedDb));
    const told = rows.flatMap(({ off }) => (off === null ? [] : [Math.abs(off)]));
    const delays = rows.map(({ delayMs }) => delayMs).filter(Number.isFinite);
    const score = (which: 'plain' | 'over'): string => {
      const sum = addTallies(rows.map((row) => row[which]));
      return f1(sum.hits50, sum)!.toFixed(3);
    };
    console.log(
      `| ${bleedDb > 0 ? '+' : ''}${bleedDb} dB | ${trainingSec === 0 ? 'the count alone' : `${trainingSec} s and the count`} | ${score('plain')} | ${score('over')} | ${told.filter((off) => off <= 1).length} of ${rows.length} | ${middle(told)}, ${Math.max(...told)} | ${rows.length - told.length} | ${middle(delays).toFixed(2)}, ${Math.max(...delays).toFixed(2)} |`,
    );
  }
