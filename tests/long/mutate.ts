import type { Json } from '../store/support/backup.ts';

type Die = (n: number) => number;

/** All places in some JSON, as [holder, key]. */
function places(value: unknown, found: [any, string | number][] = []): [any, string | number][] {
  if (typeof value !== 'object' || value === null) return found;
  for (const key of Array.isArray(value) ? value.keys() : Object.keys(value)) {
    found.push([value, key]);
    places((value as Record<string, unknown>)[key as string], found);
  }
  return found;
}

const WORDS = [
  '',
  'x',
  'A',
  'melody',
  'blues',
  'lydian',
  'Bb3',
  'strict',
  '__proto__',
  '\u0000',
  '\ud800',
  'é'.repeat(300),
];
const NUMBERS = [0, -0, 1, -1, 2, 12, 24, 40, 127, 128, 480, 0.5, 0.1, 1e9, -1e9, 2 ** 53, 1e300, 5e-324];

/** One small change somewhere: what comes out may still be sound, or just not. */
export function changed<T>(json: T, roll: Die): T {
  const copy = structuredClone(json) as any;
  const all = places(copy);
  if (all.length === 0) return copy;
  const [holder, key] = all[roll(all.length)]!;
  const old = holder[key];
  switch (roll(12)) {
    case 0:
      if (Array.isArray(holder)) holder.splice(Number(key), 1);
      else delete holder[key];
      break;
    case 1:
      if (Array.isArray(holder)) holder.splice(Number(key), 0, structuredClone(old));
      else holder[`${key}X`] = old;
      break;
    case 2:
      holder[key] = WORDS[roll(WORDS.length)];
      break;
    case 3:
      holder[key] = [null, true, false, [], {}, [[]]][roll(6)];
      break;
    case 4:
    case 5:
    case 6:
      holder[key] = NUMBERS[roll(NUMBERS.length)];
      break;
    case 7:
    case 8:
      if (typeof old === 'number') holder[key] = old + [1, -1, 12, -12, 240, -240, 0.5][roll(7)]!;
      else if (Array.isArray(old)) old.reverse();
      else holder[key] = old;
      break;
    case 9: {
      const [other, otherKey] = all[roll(all.length)]!;
      const swap = structuredClone(other[otherKey]);
      if (typeof swap !== 'object') holder[key] = swap;
      break;
    }
    case 10:
      if (Array.isArray(old)) for (let i = 0; i < 40; i++) old.push(structuredClone(old[0] ?? 0));
      else if (typeof old === 'string') holder[key] = old + old;
      else holder[key] = old;
      break;
    default:
      if (typeof old === 'number') holder[key] = -old;
      else if (typeof old === 'string') holder[key] = old.toUpperCase();
      else holder[key] = structuredClone(WORDS);
  }
  return copy as T;
}

/** So many changes, mostly one. */
export function mutated<T>(json: T, roll: Die): T {
  let next = json;
  for (let n = 1 + (roll(3) === 0 ? roll(4) : 0); n > 0; n--) next = changed(next, roll);
  return next;
}

/** The same of text: signs replaced, cut, doubled, moved; words of the format put in. */
export function mutatedText(text: string, words: readonly string[], roll: Die): string {
  let next = text;
  for (let n = 1 + roll(3); n > 0; n--) {
    const at = roll(next.length + 1);
    const length = roll(40);
    const piece = next.slice(at, at + length);
    next = [
      () => next.slice(0, at) + next.slice(at + length),
      () => next.slice(0, at) + piece + next.slice(at),
      () => next.slice(0, at) + words[roll(words.length)]! + next.slice(at),
      () => next.slice(0, at) + words[roll(words.length)]! + next.slice(at + length),
      () => next.slice(0, at) + String.fromCharCode(roll(128)) + next.slice(at + 1),
      () => next.slice(0, at),
    ][roll(6)]!();
  }
  return next;
}
export type { Json };
