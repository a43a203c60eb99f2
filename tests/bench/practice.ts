import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { loadavg } from 'node:os';
import { liftOf } from './practice/lift.ts';
import type { VariantLift } from './practice/lift.ts';
import { naming } from './practice/naming.ts';
import { PANEL, USUAL_NAME } from './practice/panel.ts';
import { draw } from './practice/plots.ts';
import { speed } from './practice/speed.ts';
import { fftMicroseconds } from './yardstick.ts';

/**
 * Simulated students (how they are made: tests/tests-engine/progress/learner/): is the true weakest part named,
 * does adaptive practice lift them faster than random choice, does the chance foretold come true, how long
 * does a choice take?
 *
 * `npm run bench:practice -- naming [runs]`, `-- panel [students] [pattern of names]`, `-- report`, `-- speed`; without
 * words: all. The panel keeps its figures in .cache/practice, so that it can be run a kind of student at a time;
 * `report` prints them all and draws the two plots of src/tests-engine/progress/README.md.
 */
const KEPT = new URL('../../.cache/practice/', import.meta.url).pathname;
const kept = (variant: string): string => `${KEPT}${variant.replace(/[^a-z0-9]+/gi, '-')}.json`;
const [what, count, part = ''] = process.argv.slice(2);
const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;

function panel(students: number): void {
  mkdirSync(KEPT, { recursive: true });
  for (const variant of Object.keys(PANEL).filter((name) => new RegExp(part).test(name))) {
    // The usual student is heard and marked by the real marker, the others by counting notes.
    const made = liftOf(variant, students, variant === USUAL_NAME ? 'real' : 'counted');
    writeFileSync(kept(variant), JSON.stringify(made));
    console.log(`  ${variant}: done`);
  }
}

function report(): void {
  const all = Object.keys(PANEL)
    .filter((variant) => existsSync(kept(variant)))
    .map((variant) => JSON.parse(readFileSync(kept(variant), 'utf8')) as VariantLift);
  for (const { variant, students, marker, lifts } of all) {
    console.log(`\n${variant} (${students} students, ${marker} marker)`);
    for (const { policy, curve, ahead, ladder, lead, planted, there, level } of lifts)
      console.log(
        `  ${policy.padEnd(24)} ${curve.map((p) => p.toFixed(3)).join(' ')}  gain ${ahead.toFixed(2)}` +
          `, lead ${lead.ahead.mean.toFixed(2)} ± ${lead.ahead.half.toFixed(2)}; ladder ${ladder.toFixed(1)}` +
          `, lead ${lead.ladder.mean.toFixed(1)} ± ${lead.ladder.half.toFixed(1)}; weakest ${planted.toFixed(2)}` +
          `; there ${percent(there)}, level ${level.toFixed(1)}`,
      );
  }
  console.log('\nForetold and come true (adaptive tests of all kinds of student)');
  const foretold = all.flatMap((one) => one.foretold);
  for (let low = 0; low < 1; low += 0.1) {
    const some = foretold.filter(({ chance }) => chance >= low && chance < low + 0.1);
    if (some.length === 0) continue;
    const said = some.reduce((sum, { chance }) => sum + chance, 0) / some.length;
    const came = some.filter(({ there }) => there).length / some.length;
    console.log(`  ${said.toFixed(2)} foretold, ${came.toFixed(2)} came true (${some.length} tests)`);
  }
  if (all.length > 0) draw(all);
}

console.log(
  `2048-point complex radix-2 FFT: ${fftMicroseconds().toFixed(0)} µs; load ${loadavg()[0]!.toFixed(0)}`,
);
if (what === undefined || what === 'speed') speed();
if (what === undefined || what === 'naming') {
  const runs = Number(count ?? 200);
  for (const [policy, rate, words] of [
    ['random, own level ± 1', 0.013, 'levels 4–6 at random, learns slowly'],
  ] as const) {
    const { first, three, strictThree, chanceMet, chanceRegular, partsMet } = naming(runs, policy, rate);
    console.log(
      `Naming, ${words}: true weakest part within the first three in ${percent(three)} of ${runs} runs, first in ${percent(first)}`,
    );
    console.log(
      `  by chance ${percent(chanceMet)} of the ${partsMet.toFixed(0)} parts met, ${percent(chanceRegular)} of the 20 regular ones; the weakest of all met in ten notes or more, within three: ${percent(strictThree)}`,
    );
  }
}
if (what === undefined || what === 'panel') panel(Number(count ?? 24));
if (what === undefined || what === 'report' || what === 'panel') report();
