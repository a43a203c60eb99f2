import type { BarShape } from './bar.ts';
import { partOf } from './bar.ts';
import type { Sign } from './types.ts';

const hasFlag = (sign: Sign): boolean =>
  sign.kind === 'note' && (sign.value === '8' || sign.value === '16' || sign.value === '32');
const plainQuaver = (sign: Sign): boolean => hasFlag(sign) && sign.value === '8' && sign.tuplet === null;

/**
 * Gives each flagged sign the beam it belongs to. Beams join what lies in one beat; quavers alone are
 * joined over a larger part (half a bar of 4/4, the whole bar of 3/4), as printed music has it.
 *
 * @param barStart ticks of the bar line; `signs` are those of one bar, in order.
 */
export function beamed(signs: readonly Sign[], shape: BarShape, barStart: number): Sign[] {
  const simple = shape.beats[1]! === 480;
  const groupOf = signs.map((sign) => {
    const at = sign.startTicks - barStart;
    const part = partOf(shape.parts, at);
    const inPart = signs.filter((other) => partOf(shape.parts, other.startTicks - barStart) === part);
    if (simple && inPart.every(plainQuaver)) return `part${part}`;
    return sign.tuplet === null ? `beat${partOf(shape.beats, at)}` : `tuplet${sign.tuplet}`;
  });
  let beam = -1;
  const beams = signs.map((sign, i) => {
    if (!hasFlag(sign)) return null;
    const joined = i > 0 && hasFlag(signs[i - 1]!) && groupOf[i] === groupOf[i - 1];
    if (!joined) beam += 1;
    return beam;
  });
  return signs.map((sign, i) => ({
    ...sign,
    beam: beams.filter((other) => other === beams[i]).length > 1 ? beams[i]! : null,
  }));
}
