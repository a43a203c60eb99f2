import { parseArgs } from 'node:util';
import * as v from 'valibot';
import { UsageError } from './io.ts';

/** The options a command knows: `value` takes the next word, `flag` stands alone. */
export type Spec = Readonly<Record<string, 'value' | 'flag'>>;

/** `--start -0.5` as `--start=-0.5`: Node takes a leading minus for another option. */
function withNegatives(args: readonly string[], spec: Spec): string[] {
  return args.flatMap((arg, i) => {
    const isValueOption = (word: string | undefined) =>
      word?.startsWith('--') && spec[word.slice(2)] === 'value';
    if (isValueOption(arg) && /^-[\d.]/.test(args[i + 1] ?? '')) return [`${arg}=${args[i + 1]!}`];
    return /^-[\d.]/.test(arg) && isValueOption(args[i - 1]) ? [] : [arg];
  });
}

const DECIMAL = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/** A decimal number in a range, as it is typed. */
const typedNumber = (low: number, high: number) => {
  const message = `must be a number from ${low} to ${high}`;
  return v.pipe(
    v.string(),
    v.regex(DECIMAL, message),
    v.transform(Number),
    v.minValue(low, message),
    v.maxValue(high, message),
  );
};

/** What was given to a command. */
export class Options {
  readonly words: readonly string[];
  readonly #values: Readonly<Record<string, string | boolean | undefined>>;

  /** @throws UsageError for an option that is not in `spec`, is given twice, or lacks its value. */
  constructor(args: readonly string[], spec: Spec) {
    try {
      const { values, positionals } = parseArgs({
        args: withNegatives(args, spec),
        allowPositionals: true,
        options: Object.fromEntries(
          Object.entries(spec).map(([name, kind]) => [
            name,
            { type: kind === 'flag' ? ('boolean' as const) : ('string' as const), multiple: true },
          ]),
        ),
      });
      const single = Object.entries(values).map(([name, given]) => {
        const list = given as (string | boolean)[];
        if (list.length > 1) throw new UsageError(`--${name} is given ${list.length} times; give it once`);
        return [name, list[0]] as const;
      });
      this.#values = Object.fromEntries(single);
      this.words = positionals;
    } catch (error) {
      if (error instanceof UsageError) throw error;
      const known = Object.keys(spec).map((name) => `--${name}`);
      throw new UsageError(`${(error as Error).message.split('. ')[0]!}; known are ${known.join(', ')}`);
    }
  }

  flag(name: string): boolean {
    return this.#values[name] === true;
  }

  text(name: string): string | null {
    const value = this.#values[name];
    return typeof value === 'string' ? value : null;
  }

  required(name: string): string {
    const value = this.text(name);
    if (value === null) throw new UsageError(`--${name} is missing`);
    return value;
  }

  /** One of `allowed`; `otherwise` where the option is not given (undefined: it must be). */
  choice<T extends string>(name: string, allowed: readonly T[], otherwise?: T): T {
    return this.#read(name, v.picklist(allowed, `must be ${allowed.join(' or ')}`), otherwise);
  }

  /** A decimal number in a range. */
  number(name: string, low: number, high: number, otherwise?: number): number {
    return this.#read(name, typedNumber(low, high), otherwise);
  }

  whole(name: string, low: number, high: number, otherwise?: number): number {
    return this.#read(name, v.pipe(typedNumber(low, high), v.integer('must be a whole number')), otherwise);
  }

  /** @throws UsageError where what was given does not fit, or nothing was given and must be */
  #read<T>(name: string, form: v.GenericSchema<unknown, T>, otherwise: T | undefined): T {
    const given = otherwise === undefined ? this.required(name) : this.text(name);
    if (given === null) return otherwise!;
    const read = v.safeParse(form, given, { abortEarly: true });
    if (!read.success) throw new UsageError(`--${name} ${read.issues[0].message}, got "${given}"`);
    return read.output;
  }

  /** Exactly these words, by name, beside the options. */
  exactly(...names: readonly string[]): readonly string[] {
    if (this.words.length < names.length) throw new UsageError(`${names[this.words.length]!} is missing`);
    if (this.words.length > names.length)
      throw new UsageError(`"${this.words[names.length]!}" is one word too many`);
    return this.words;
  }
}
