import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DRIVEN, makeStrum, RIGHT } from '../../../audio-fixtures/chords/index.ts';
import type { StrumOrder } from '../../../audio-fixtures/chords/index.ts';
import { fitShape, prepareStrum } from '../../dsp/chords/fitShape.ts';
import { INPUTS } from '../../dsp/chords/inputs.ts';
import { strumSpectrum } from '../../dsp/chords/strumSpectrum.ts';
import { cacheFolder } from '../cacheFolder.ts';

/** One strum as the network and the thresholds learn from it. */
export interface Lesson {
  readonly bank: string;
  readonly kind: string;
  readonly fault: string;
  readonly effect: string;
  readonly right: boolean;
  readonly driven: boolean;
  readonly asked: readonly number[];
  readonly sounding: readonly number[];
  readonly from: number;
  readonly to: number;
  readonly unexplained: number;
  readonly tuning: { readonly cents: number; readonly confidence: number };
  readonly inputs: Float64Array;
}

const SOURCES = [
  'audio-fixtures/chords',
  'audio-fixtures/effects',
  'audio-fixtures/voice.ts',
  'src/dsp/spectrum',
  ...[
    'constants',
    'strumSpectrum',
    'tuning',
    'partials',
    'dictionary',
    'gains',
    'elsewhere',
    'inputs',
    'fitShape',
    'fitted/levels',
  ].map((name) => `src/dsp/chords/${name}.ts`),
];

/** What comes after the first string: a rake's last string is let sound before the window opens. */
const RAKE_SHARE = 0.5;

export function lessonOf(order: StrumOrder): Lesson | null {
  const made = makeStrum(order);
  if (!made) return null;
  const { asked, sounding, firstSec, lastSec, untilSec } = made;
  const at = Math.round((firstSec + RAKE_SHARE * (lastSec - firstSec)) * 44_100);
  const strum = prepareStrum(strumSpectrum(made.signal, at, Math.round(untilSec * 44_100)));
  const fit = fitShape(strum, asked, Math.min(...made.chord.tuning));
  return {
    bank: order.bank.name,
    kind: order.kind,
    fault: order.fault,
    effect: order.effect,
    right: RIGHT.includes(order.fault),
    driven: DRIVEN.includes(order.effect),
    asked,
    sounding,
    from: fit.from,
    to: fit.to,
    unexplained: fit.gains.unexplained,
    tuning: strum.tuning,
    inputs: fit.inputs,
  };
}

/** Lessons of these orders, made at first use and kept in the git-ignored cache under `name`. */
export function lessonsOf(name: string, orders: readonly StrumOrder[]): Lesson[] {
  const folder = cacheFolder(`chords-${name}`, SOURCES);
  const heads = join(folder, 'heads.jsonl');
  const numbers = join(folder, 'inputs.f32');
  if (!existsSync(heads)) make(orders, folder, heads, numbers);
  const bytes = readFileSync(numbers);
  const all = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / 4);
  let at = 0;
  return readFileSync(heads, 'utf8')
    .split('\n')
    .filter(Boolean)
    .map((line) => {
      const head = JSON.parse(line) as Omit<Lesson, 'inputs'>;
      const count = (head.to - head.from + 1) * INPUTS;
      return { ...head, inputs: Float64Array.from(all.subarray(at, (at += count))) };
    });
}

function make(orders: readonly StrumOrder[], folder: string, heads: string, numbers: string): void {
  mkdirSync(folder, { recursive: true });
  const lines: string[] = [];
  const parts: Buffer[] = [];
  // Voices are kept by instrument while it is in use.
  const byBank = [...orders].sort((a, b) =>
    a.bank.name < b.bank.name ? -1 : a.bank.name > b.bank.name ? 1 : 0,
  );
  for (const [i, order] of byBank.entries()) {
    if (i % 250 === 0) process.stderr.write(`  ${i} of ${orders.length} strums\n`);
    const lesson = lessonOf(order);
    if (!lesson) continue;
    const { inputs, ...head } = lesson;
    lines.push(JSON.stringify(head));
    parts.push(Buffer.from(Float32Array.from(inputs).buffer));
  }
  writeFileSync(`${numbers}.part`, Buffer.concat(parts));
  renameSync(`${numbers}.part`, numbers);
  writeFileSync(heads, lines.join('\n'));
}
