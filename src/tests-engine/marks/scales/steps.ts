import { median } from '../../../music/numbers.ts';
import type { FactsOrder, ScalePlace } from './types.ts';

/** From one answered note to the next. */
export interface Step {
  /** Index into the target of the note that the step leads to. */
  readonly note: number;
  /** Written length at the take's own swing, s. */
  readonly dueSec: number;
  readonly tookSec: number;
  readonly place: ScalePlace;
}

/** What the hands do between two neighbouring notes. */
export function placeAt(
  { target, fingers }: Pick<FactsOrder, 'target' | 'fingers'>,
  note: number,
): ScalePlace {
  const [before, here] = [fingers[note - 1], fingers[note]];
  if (!before || !here) return { kind: 'plain' };
  if (before.hand !== here.hand) return { kind: 'shift', from: before.hand, to: here.hand };
  if (before.string !== here.string) return { kind: 'crossing', from: before.string, to: here.string };
  const [a, b, c] = [target[note - 2]?.midi, target[note - 1]!.midi, target[note]!.midi];
  return a !== undefined && (b! - a) * (c! - b!) < 0 ? { kind: 'turn' } : { kind: 'plain' };
}

/** Steps between answered notes at most two apart; the take's own swing is taken out of what is due. */
export function stepsOf(order: FactsOrder): {
  readonly steps: readonly Step[];
  readonly swingRatio: number | null;
} {
  const { target, played, mark } = order;
  const answers = mark.verdicts
    .flatMap((v) =>
      v.targetIndex !== null && v.playedIndex !== null
        ? [{ i: v.targetIndex, s: played[v.playedIndex]!.onsetSec }]
        : [],
    )
    .sort((a, b) => a.i - b.i);
  const raw = answers.slice(1).flatMap((b, k) => {
    const a = answers[k]!;
    const took = b.s - a.s;
    return b.i - a.i <= 2 && took > 0 ? [{ from: a.i, note: b.i, took }] : [];
  });
  const swingRatio = order.swung ? ratioOf(raw, order) : null;
  const beat = 60 / order.tempoBpm;
  // Where the off-beat falls in its crotchet, as it was played.
  const at = (i: number): number => {
    const written = target[i]!.onsetSec;
    if (swingRatio === null) return written;
    const whole = Math.floor(written / beat + 1e-6);
    return target[i]!.swungOffBeat ? (whole + swingRatio / (swingRatio + 1)) * beat : whole * beat;
  };
  return {
    swingRatio,
    steps: raw.map(({ from, note, took }) => ({
      note,
      dueSec: at(note) - at(from),
      tookSec: took,
      place: placeAt(order, note),
    })),
  };
}

/** Fewest pairs that a swing ratio is told from. */
const FEWEST_PAIRS = 4;

function ratioOf(
  raw: readonly { from: number; note: number; took: number }[],
  { target }: FactsOrder,
): number | null {
  const long = raw.filter(({ from, note }) => note === from + 1 && target[note]!.swungOffBeat);
  const short = raw.filter(({ from, note }) => note === from + 1 && target[from]!.swungOffBeat);
  if (long.length < FEWEST_PAIRS || short.length < FEWEST_PAIRS) return null;
  return median(long.map(({ took }) => took)) / median(short.map(({ took }) => took));
}
