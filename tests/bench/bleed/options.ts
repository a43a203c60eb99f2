import { parseArgs } from 'node:util';
import { CONDITIONS } from './conditions.ts';
import { BACKINGS, PRESENT, type Backing } from './sent.ts';

export interface BleedOptions {
  readonly scenes: number;
  /** Number of the first scene. */
  readonly first: number;
  readonly conditions: readonly string[];
  /** Each scene over each of them. */
  readonly backings: readonly Backing[];
  readonly rate: number;
  /** Cancel only, cancel and hear, or report what earlier runs heard. */
  readonly stage: 'cancel' | 'hear' | 'report';
  readonly json: boolean;
}

export const USAGE = `npm run bench:bleed -- [--scenes N] [--first N] [--only 'NAME;NAME'] [--over LIST] [--rate HZ] [--stage STAGE] [--json]
  --scenes  scenes a condition (default 8; 46 scenes hold 400 notes a cell and take an hour of CPU time)
  --first   number of the first scene (default 1000; 0…299 were learnt from)
  --only    conditions, by the beginning of their names
  --over    who plays the backings: "none" (from before they had chords), "2", "3", "4" (default, the present arranger), or
            several with commas between: the same scenes over each, a table for each
  --rate    sample rate of the recordings (default 24000, at which the chain works; without bleed 44100 at least)
  --stage   "cancel" makes scenes and takes their backing out, "hear" (default) hears them as well, "report" prints
            what earlier runs with the same sources heard
What is made and found is kept in .cache (bleed/ and bleed-results.jsonl), each by the state of the sources that it
depends on: a run that was stopped goes on where it was, and two may run side by side on scenes of their own.`;

const whole = (name: string, value: string, low: number, high: number): number => {
  const number = Number(value);
  if (!Number.isInteger(number) || number < low || number > high)
    throw new RangeError(`--${name} is a whole number from ${low} to ${high}, got ${value}`);
  return number;
};

/** Throws `RangeError` with the allowed values. */
export function bleedOptions(argv: readonly string[]): BleedOptions {
  const { values } = parseArgs({
    args: [...argv],
    options: {
      scenes: { type: 'string', default: '8' },
      first: { type: 'string', default: '1000' },
      only: { type: 'string' },
      over: { type: 'string', default: PRESENT },
      rate: { type: 'string', default: '24000' },
      stage: { type: 'string', default: 'hear' },
      json: { type: 'boolean', default: false },
    },
  });
  const names = CONDITIONS.map(({ name }) => name);
  const wanted = values.only?.split(';') ?? null;
  for (const start of wanted ?? [])
    if (!names.some((name) => name.startsWith(start)))
      throw new RangeError(`--only knows ${names.join('; ')}, got ${start}`);
  const asked = values.over.split(',');
  const backings = BACKINGS.filter((name) => asked.includes(name));
  if (backings.length !== asked.length)
    throw new RangeError(`--over knows ${BACKINGS.join(', ')}, got ${values.over}`);
  const stage = (['cancel', 'hear', 'report'] as const).find((name) => name === values.stage);
  if (!stage) throw new RangeError(`--stage is cancel, hear or report, got ${values.stage}`);
  return {
    scenes: whole('scenes', values.scenes, 1, 1000),
    first: whole('first', values.first, 0, 1_000_000),
    conditions: names.filter((name) => wanted?.some((start) => name.startsWith(start)) ?? true),
    backings,
    rate: whole('rate', values.rate, 8000, 192_000),
    stage,
    json: values.json,
  };
}
