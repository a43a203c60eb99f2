import type { LevelMetre, LevelParameters } from './types.ts';

/**
 * Keeps what was built for a metre of a level. The level is asked for beside the metre, since two levels may hold the
 * same metre and differ in figures, bands or scales; `name` is for what else it depends on.
 */
export class PerMetre<T> {
  readonly #kept = new WeakMap<LevelParameters, Map<LevelMetre, Map<string, T>>>();

  /** @returns what was kept; made now where nothing was. */
  of(level: LevelParameters, at: LevelMetre, name: string, make: () => T): T {
    let metres = this.#kept.get(level);
    if (!metres) this.#kept.set(level, (metres = new Map<LevelMetre, Map<string, T>>()));
    let named = metres.get(at);
    if (!named) metres.set(at, (named = new Map<string, T>()));
    let found = named.get(name);
    if (found === undefined) named.set(name, (found = make()));
    return found;
  }
}
