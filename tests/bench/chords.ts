import { writeSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { loadBanks } from '../../audio-fixtures/index.ts';
import { CHORD_BANKS, strumSet } from '../../audio-fixtures/chords/index.ts';
import { backingRows } from './chords/backing.ts';
import type { BackingRow } from './chords/backing.ts';
import {
  baselineTable,
  calibrationTable,
  doubtTable,
  faultTables,
  nameTable,
  onsetTable,
  overTables,
  splitTables,
} from './chords/report.ts';
import { realTable } from './chords/real.ts';
import { rowOf } from './chords/run.ts';
import type { Row } from './chords/run.ts';
import { fftMicroseconds } from './yardstick.ts';

/**
 * How well a chord that was asked for is heard, on strums of real recorded strings of instruments that nothing was fitted on.
 *
 *   npm run bench:chords -- [--strums 1600] [--seed 7] [--scenes 8] [--no-baselines] [--misses]
 */
const { values } = parseArgs({
  options: {
    strums: { type: 'string', default: '1600' },
    seed: { type: 'string', default: '7' },
    scenes: { type: 'string', default: '8' },
    'no-baselines': { type: 'boolean', default: false },
    misses: { type: 'boolean', default: false },
  },
});
const say = (text: string): void => void writeSync(1, `${text}\n`);

let microseconds = fftMicroseconds();
const { absent } = await loadBanks();
if (absent.length > 0)
  say(`absent banks (Debian's fluid-soundfont-gm or freepats is not installed): ${absent.join(', ')}`);
say(`instruments: ${CHORD_BANKS.report.join(', ')} (fitted on: ${CHORD_BANKS.fit.join(', ')})`);

const orders = await strumSet({
  which: 'report',
  seed: Number(values.seed),
  count: Number(values.strums),
  right: 0.4,
});
orders.sort((a, b) => (a.bank.name < b.bank.name ? -1 : 1));
const rows: Row[] = [];
for (const order of orders) {
  const row = rowOf(order, !values['no-baselines']);
  if (row) rows.push(row);
}
if (rows.length > 0)
  for (const lines of [
    faultTables(rows),
    splitTables(rows),
    doubtTable(rows),
    nameTable(rows),
    onsetTable(rows),
    calibrationTable(rows),
  ])
    say(lines.join('\n'));
if (rows.length > 0 && !values['no-baselines']) say(baselineTable(rows).join('\n'));

if (values.misses)
  for (const { order, made, right, shape } of rows) {
    const wrong = right ? shape?.verdict === 'no' : shape?.verdict === 'yes';
    if (wrong)
      say(
        `${order.kind}/${order.fault}/${order.effect}/${order.bank.name}/${order.seed} ${made.chord.name}: asked ${made.asked.join()} sounds ${made.sounding.join()} ${shape!.verdict} ${JSON.stringify(shape!.findings)}`,
      );
  }

const over: BackingRow[] = [];
for (const bleedDb of [null, -10, 0] as const)
  for (let n = 0; n < Number(values.scenes); n++) over.push(...(await backingRows(n, bleedDb, 0.4)));
if (over.length > 0) say(overTables(over).join('\n'));

const real = realTable();
say(real ? real.join('\n') : "\nno recorded chords: Debian's sonic-pi-samples is not installed");

microseconds = Math.min(microseconds, fftMicroseconds());
const [cpu, sound] = rows.reduce(([c, s], r) => [c + r.cpuSec, s + r.soundSec], [0, 0]);
if (sound > 0)
  say(
    `\nspeed: ${(sound / cpu).toFixed(0)} × real time (strums found, one shape judged, CPU time; 2048-point complex radix-2 FFT ${microseconds.toFixed(0)} µs)`,
  );
