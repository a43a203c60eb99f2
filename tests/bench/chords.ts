import { writeSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { loadBanks } from '../../audio-fixtures/index.ts';
import { CHORD_BANKS, strumSet } from '../../audio-fixtures/chords/index.ts';
import { backingRows } from './chords/backing.ts';
import type { BackingRow } from './chords/backing.ts';
import { writeFigures } from './chords/figures.ts';
import { insteadTable } from './chords/instead.ts';
import { brokenTable, firstOf, liveTable, tunedTable, vocabularyTable } from './chords/others.ts';
import {
  baselineTable,
  calibrationTable,
  doubtTable,
  faultTables,
  marginTable,
  nameTable,
  onsetTable,
  overTables,
  splitTables,
} from './chords/report.ts';
import { realTables } from './chords/real.ts';
import { rowOf } from './chords/run.ts';
import type { Row } from './chords/run.ts';
import { fftMicroseconds } from './yardstick.ts';

/**
 * How well a chord that was asked for is heard, on strums of real recorded strings of instruments that nothing was fitted on.
 *
 *   npm run bench:chords -- [--strums 1600] [--right 0.4] [--seed 7] [--baselines 600] [--others 240] [--scenes 8] [--first 0] [--margins] [--real] [--takes FOLDER] [--misses]
 *                           [--write]
 *
 * `--first`: number of the first scene over a backing; `--margins`: those scenes on the fit's instruments, with every margin over a backing.
 * Parts of which there are none are left out; `--write` puts what was measured into figures/chords.md.
 */
const { values } = parseArgs({
  options: {
    strums: { type: 'string', default: '1600' },
    right: { type: 'string', default: '0.4' },
    seed: { type: 'string', default: '7' },
    baselines: { type: 'string', default: '600' },
    others: { type: 'string', default: '240' },
    scenes: { type: 'string', default: '8' },
    first: { type: 'string', default: '0' },
    margins: { type: 'boolean', default: false },
    real: { type: 'boolean', default: false },
    takes: { type: 'string' },
    misses: { type: 'boolean', default: false },
    write: { type: 'boolean', default: false },
  },
});
const say = (text: string): void => void writeSync(1, `${text}\n`);
const count = (name: 'strums' | 'seed' | 'baselines' | 'others' | 'scenes' | 'first'): number =>
  Number(values[name]);
function told(part: string, options: string, lines: readonly string[]): void {
  say(lines.join('\n'));
  if (values.write) writeFigures(part, `npm run bench:chords -- ${options}`, lines);
}

let microseconds = fftMicroseconds();
const yardstick = (): string => {
  microseconds = Math.min(microseconds, fftMicroseconds());
  return `2048-point complex radix-2 FFT ${microseconds.toFixed(0)} µs`;
};
const { absent } = await loadBanks();
if (absent.length > 0)
  say(`absent banks (Debian's fluid-soundfont-gm or freepats is not installed): ${absent.join(', ')}`);
const instruments = `Instruments: ${CHORD_BANKS.report.join(', ')} (fitted on: ${CHORD_BANKS.fit.join(', ')}).`;

const set = { which: 'report', seed: count('seed'), right: Number(values.right) } as const;
const orders = await strumSet({ ...set, count: count('strums') });
orders.sort((a, b) => (a.bank.name < b.bank.name ? -1 : 1));
const beside = new Set(firstOf(orders, count('baselines'), 1));
const rows: Row[] = [];
for (const [i, order] of orders.entries()) {
  if (i % 250 === 0) process.stderr.write(`  ${i} of ${orders.length} strums\n`);
  const row = rowOf(order, beside.has(order));
  if (row) rows.push(row);
}
if (rows.length > 0) {
  const [cpu, sound] = rows.reduce(([c, s], r) => [c + r.cpuSec, s + r.soundSec], [0, 0]);
  told('Strums', `--strums ${values.strums} --right ${values.right} --seed ${values.seed}`, [
    '',
    instruments,
    ...faultTables(rows),
    ...splitTables(rows),
    ...doubtTable(rows),
    ...nameTable(rows),
    ...onsetTable(rows),
    ...calibrationTable(rows),
    ...(rows.some(({ scores }) => scores) ? baselineTable(rows) : []),
    '',
    `Speed: ${(sound / cpu).toFixed(0)} × real time (strums found, one shape judged, CPU time; ${yardstick()}).`,
  ]);
}
if (values.misses)
  for (const { order, made, right, shape } of rows) {
    const wrong = right ? shape?.verdict === 'no' : shape?.verdict === 'yes';
    if (wrong)
      say(
        `${order.kind}/${order.fault}/${order.effect}/${order.bank.name}/${order.seed} ${made.chord.name}: asked ${made.asked.join()} sounds ${made.sounding.join()} ${shape!.verdict} ${JSON.stringify(shape!.findings)}`,
      );
  }

if (count('others') > 0) {
  const own = { ...set, seed: set.seed + 1, count: count('others') };
  const clean = await strumSet({ ...own, right: 0.5, effects: ['clean'] });
  const undriven = await strumSet({ ...own, effects: ['clean', 'room', 'laptop', 'noise', 'raked'] });
  told(
    'Tuning, broken chords, answers while it rings, names',
    `--strums 0 --others ${values.others} --seed ${values.seed}`,
    [
      ...tunedTable(clean),
      ...brokenTable(clean.slice(0, Math.ceil(clean.length / 3))),
      ...liveTable(undriven),
      ...vocabularyTable(undriven.slice(0, Math.ceil(undriven.length / 3))),
      '',
      `(${yardstick()})`,
    ],
  );
  told(
    'What is no chord',
    `--strums 0 --others ${values.others} --seed ${values.seed}`,
    await insteadTable(Math.ceil(count('others') / 10), set.seed),
  );
}

const over: BackingRow[] = [];
for (let n = 0; n < count('scenes'); n++) {
  process.stderr.write(`  scene ${n + 1} of ${values.scenes}\n`);
  over.push(...(await backingRows(count('first') + n, values.margins ? 'fit' : 'report')));
}
const sceneOptions = `--strums 0 --others 0 --scenes ${values.scenes} --first ${values.first}`;
if (over.length > 0 && values.margins)
  told('How much surer over a backing', `${sceneOptions} --margins`, marginTable(over));
else if (over.length > 0) {
  told('Over a backing', sceneOptions, overTables(over));
  if (values.misses)
    for (const { bleedDb, fault, right, judged, at } of over)
      if (right ? judged?.verdict === 'no' : judged?.verdict === 'yes')
        say(
          `${bleedDb ?? 'headphones'} ${fault} ${at} ${judged!.verdict} ${JSON.stringify(judged!.findings)}`,
        );
}

if (values.real)
  told(
    'Recorded chords',
    `--strums 0 --others 0 --scenes 0 --real${values.takes ? ' --takes FOLDER' : ''}`,
    await realTables(values.takes ?? null),
  );
