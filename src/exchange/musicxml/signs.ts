import { barTicks } from '../../music/metre.ts';
import type { ReadingTask } from '../../music/task.ts';
import { element } from './xml.ts';

/** One direction under the staff, `offset` ticks after the place in the bar where it is written. */
const under = (type: string, offset: number): string =>
  element(
    'direction',
    [element('direction-type', [type]), ...(offset === 0 ? [] : [element('offset', offset)])],
    { placement: 'below' },
  );

/**
 * Dynamics and hairpins that begin or end in a bar (counted from 0), as directions before its notes. A hairpin that ends
 * with a bar ends at its bar line.
 */
export function directionsOf({ phrase, signs }: ReadingTask, bar: number): string[] {
  const length = barTicks(phrase.metre);
  const [from, to] = [bar * length, (bar + 1) * length];
  const isHere = (atTicks: number): boolean => atTicks >= from && atTicks < to;
  return signs.flatMap((sign) => {
    switch (sign.kind) {
      case 'dynamic':
        return isHere(sign.atTicks)
          ? [under(element('dynamics', [element(sign.word)]), sign.atTicks - from)]
          : [];
      case 'louder':
      case 'softer': {
        const type = sign.kind === 'louder' ? 'crescendo' : 'diminuendo';
        const ends = sign.toTicks > from && sign.toTicks <= to;
        return [
          ...(isHere(sign.fromTicks) ? [under(element('wedge', [], { type }), sign.fromTicks - from)] : []),
          ...(ends ? [under(element('wedge', [], { type: 'stop' }), sign.toTicks - from)] : []),
        ];
      }
      default:
        return [];
    }
  });
}

/** The articulation signs of each note that has some, by its number in the phrase. */
export function articulationsOf({ signs }: ReadingTask): ReadonlyMap<number, readonly string[]> {
  const found = new Map<number, string[]>();
  for (const sign of signs)
    if ('note' in sign) found.set(sign.note, [...(found.get(sign.note) ?? []), element(sign.kind)]);
  return found;
}
