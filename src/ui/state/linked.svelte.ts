import { isHeard } from '../../music/kinds.ts';
import type { TestKind } from '../../music/score.ts';

/** A test asked for by the address: `#/start/melody/3/12345` = kind, level, seed. */
export interface Linked {
  readonly kind: TestKind;
  readonly level: number;
  readonly seed: number;
}

/** Reads what follows `#/start/`; null when it names no test. */
export function parseLinked(rest: readonly string[]): Linked | null {
  const [kind, level, seed] = rest;
  if (!isHeard(kind)) return null;
  if (!/^([1-9]|10)$/.test(level ?? '') || !/^\d{1,10}$/.test(seed ?? '')) return null;
  const number = Number(seed);
  return number > 0xffffffff ? null : { kind, level: Number(level), seed: number };
}

let waiting = $state.raw<Linked | null>(null);

/** The linked test that has not been begun yet; it outlives the sound check. */
export const linked = {
  get now(): Linked | null {
    return waiting;
  },
  take(next: Linked | null): void {
    waiting = next;
  },
};
