import { parseArgs } from 'node:util';
import { CONDITIONS } from './conditions.ts';

export interface BleedOptions {
  readonly scenes: number;
  /** Number of the first scene. */
  readonly first: number;
  readonly conditions: readonly string[];
  readonly rate: number;
  /** Hear each recording as it is, too. */
  readonly nothing: boolean;
  readonly json: boolean;
  readonly again: boolean;
}

export const USAGE = `npm run bench:bleed -- [--scenes N] [--first N] [--only NAME,NAME] [--rate HZ] [--quick] [--again] [--json]
  --scenes  scenes a condition (default 8; 40 scenes hold about 400 notes a cell and take an hour and a half)
  --first   number of the first scene (default 1000; 0…299 were learnt from)
  --only    conditions, by the beginning of their names
  --rate    sample rate of the recordings (default 44100; 24000 costs half)
  --quick   leave out what is heard without the chain
  --again   hear again what was heard without the chain (after a change of the plain listener)
Scenes, cancelled takes and what is heard without the chain are kept in .cache/bleed: a run that was
stopped goes on where it was, and a change after cancelling costs a second a scene.`;

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
      rate: { type: 'string', default: '44100' },
      quick: { type: 'boolean', default: false },
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
    rate: whole('rate', values.rate, 8000, 192_000),
    nothing: !values.quick,
    json: values.json,
    again: values.again,
  };
}
