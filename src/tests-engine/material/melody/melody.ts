import type { Key, Phrase } from '../../../music/score.ts';
import { midi, ticks } from '../../../music/units.ts';
import { METRES } from '../../../music/metre.ts';
import type { Random } from '../random/random.ts';
import { spelledScale } from '../theory/scale.ts';
import { spellLine } from './approach.ts';
import { type LineRequest, lineFor } from './lines.ts';
import { COLOUR } from './shape.ts';

/**
 * A melody of a level, in a key and under a hand drawn for it.
 * @throws RangeError when no hand position of the tuning holds it in any key that may be used.
 */
export function makeMelody(
  request: LineRequest,
  random: Random,
): { readonly key: Key; readonly phrase: Phrase } {
  const { level, at } = request;
  const { line, placed } = lineFor(request, random);
  const { key, hand } = placed;
  const scale = spelledScale(key);
  const keptOffsets = request.generator === 1 ? null : (COLOUR[key.scale] ?? []);
  const notes = spellLine(level, line, placed, scale, random, keptOffsets).map(({ offset, spelling }, i) => {
    const sounding = hand.tonicMidi + offset;
    const { string, fret } = hand.places.get(sounding)!;
    return {
      startTicks: ticks(line.plan.onsets[i]!),
      durationTicks: ticks(line.plan.durations[i]!),
      midi: midi(sounding),
      spelling,
      string,
      fret,
    };
  });
  return { key, phrase: { metre: METRES[at.metre], bars: at.melodyBars, notes } };
}
