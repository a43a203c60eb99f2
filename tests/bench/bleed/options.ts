import { parseArgs } from 'node:util';
import { CONDITIONS } from './conditions.ts';

export interface BleedOptions {
  readonly scenes: number;
  /** Number of the first scene. */
  readonly first: number;
  readonly conditions: readonly string[];
  readonly json: boolean;
  readonly again: boolean;
}

export const USAGE = `npm run bench:bleed -- [--scenes N] [--first N] [--only NAME,NAME] [--again] [--json]
  --scenes  scenes a condition (default 8; 40 scenes hold about 400 notes a cell and take an hour and a half)
  --first   number of the first scene (default 1000; 0…299 were learnt from)
  --only    conditions, by the beginning of their names
  --again   forget what is kept in .cache/bleed/bench.jsonl
Results are kept scene by scene: a run that was stopped goes on where it was.`;

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
      again: { type: 'boolean', default: false },
      json: { type: 'boolean', default: false },
    },
  });
  const names = CONDITIONS.map(({ name }) => name);
  const wanted = values.only?.split(',') ?? null;
  for (const start of wanted ?? [])
    if (!names.some((name) => name.startsWith(start)))
      throw new RangeError(`--only knows ${names.join('; ')}, got ${start}`);
  return {
    scenes: whole('scenes', values.scenes, 1, 1000),
    first: whole('first', values.first, 0, 1_000_000),
    conditions: names.filter((name) => wanted?.some((start) => name.startsWith(start)) ?? true),
    json: values.json,
    again: values.again,
  };
}
