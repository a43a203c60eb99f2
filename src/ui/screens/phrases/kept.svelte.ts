import { LevelFormatError, parseLevel, parseTest, TestFormatError } from '../../../tests-engine/index.ts';
import type { LevelParameters, Programme } from '../../../tests-engine/index.ts';
import type { PracticeTest } from '../../../music/score.ts';
import type { Json } from '../../../store/index.ts';
import { record } from '../../record/record.svelte.ts';

export interface Kept<T> {
  readonly id: string;
  readonly name: string;
  readonly value: T;
}

/** A list that is kept whole under one key; more would make each save slow and the backup large. */
export const MOST_KEPT = 500;
const NAME_LENGTH = 80;

/** Own things under one key of the record's settings, so that they are in every backup. */
export class KeptList<T> {
  now = $state.raw<readonly Kept<T>[] | null>(null);
  readonly #key: string;
  readonly #parse: (json: unknown) => T | null;

  constructor(key: string, parse: (json: unknown) => T | null) {
    this.#key = key;
    this.#parse = parse;
  }

  /** Reads what is kept; what cannot be read is left out of the list, not of the record. */
  async read(): Promise<void> {
    this.now = (await this.#all()).flatMap((entry) => this.#checked(entry) ?? []);
  }

  /**
   * Keeps it under its id, in place of an earlier one.
   * @returns false where the record is not open or full.
   */
  async save(entry: Kept<T>): Promise<boolean> {
    const all = await this.#all();
    const at = all.findIndex((other) => idOf(other) === entry.id);
    if (at < 0 && all.length >= MOST_KEPT) return false;
    const next = at < 0 ? [...all, entry] : all.map((other, i) => (i === at ? entry : other));
    return this.#write(next);
  }

  async remove(id: string): Promise<boolean> {
    return this.#write((await this.#all()).filter((entry) => idOf(entry) !== id));
  }

  async #all(): Promise<readonly unknown[]> {
    const kept = await record.use((store) => store.settings.get(this.#key));
    return Array.isArray(kept) ? (kept as readonly unknown[]) : [];
  }

  async #write(list: readonly unknown[]): Promise<boolean> {
    const plain = JSON.parse(JSON.stringify(list)) as Json;
    const written = await record.use(async (store) => {
      await store.settings.set(this.#key, plain);
      return true;
    });
    await this.read();
    return written === true;
  }

  #checked(entry: unknown): Kept<T> | null {
    const { id, name, value } = (entry ?? {}) as { id?: unknown; name?: unknown; value?: unknown };
    if (typeof id !== 'string' || typeof name !== 'string' || name.length > NAME_LENGTH) return null;
    const parsed = this.#parse(value);
    return parsed === null ? null : { id, name, value: parsed };
  }
}

const idOf = (entry: unknown): unknown => (entry as { id?: unknown } | null)?.id;

/** A fresh id: letters and digits, fit for an address. */
export const freshId = (): string => crypto.randomUUID().replaceAll('-', '');

function orNull<T>(read: () => T, isRefusal: (error: unknown) => boolean): T | null {
  try {
    return read();
  } catch (error) {
    if (isRefusal(error)) return null;
    throw error;
  }
}

export const ownPhrases = new KeptList<PracticeTest>('ownPhrases', (json) =>
  orNull(
    () => parseTest(json),
    (error) => error instanceof TestFormatError,
  ),
);
export const ownLevels = new KeptList<LevelParameters>('ownLevels', (json) =>
  orNull(
    () => parseLevel(json),
    (error) => error instanceof LevelFormatError,
  ),
);

/** The own phrases one after another, from this one on; alone where it is not kept among them. */
export function phrasesFrom(id: string | null, alone: PracticeTest): Programme {
  const list = ownPhrases.now ?? [];
  const at = list.findIndex((entry) => entry.id === id);
  if (list.length === 0) return { from: 'list', tasks: [alone], at: 0 };
  return { from: 'list', tasks: list.map(({ value }) => value), at };
}
