import type { Instrument } from '../../../music/score.ts';

/** [MIDI number, ms]: between these it changes evenly, beyond them it stays. */
type Curve = readonly (readonly [midi: number, ms: number])[];

/**
 * What the ear itself adds to the spread of onsets, ms s.d. by the pitch that is struck: heard less true onsets, each
 * take's middle taken out, in bands of four semitones (`npm run bench:scales -- --first 560000 --takes 160 --onsets`,
 * 2026-11-28: 2,660 onsets of three guitars, 948 of one bass; none of these takes is among those that are reported).
 */
const CURVES: Readonly<Record<Instrument, Curve>> = {
  guitar: [
    [42, 3.2],
    [58, 2.8],
    [62, 2.3],
    [66, 1.1],
    [70, 0.9],
  ],
  bass: [
    [30, 1.4],
    [34, 2.2],
    [38, 4.8],
    [42, 6.7],
    [46, 7.3],
    [50, 7.4],
    [56, 6.5],
  ],
};

/** How exactly the ear places the onset of a note of this pitch, ms s.d. */
export function earSpreadMs(instrument: Instrument, midi: number): number {
  const curve = CURVES[instrument];
  const after = curve.findIndex(([at]) => at >= midi);
  if (after <= 0) return (curve[after] ?? curve[curve.length - 1]!)[1];
  const [[low, from], [high, to]] = [curve[after - 1]!, curve[after]!];
  return from + ((midi - low) / (high - low)) * (to - from);
}
