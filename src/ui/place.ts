import type { Metre, PracticeTest } from '../music/score.ts';
import { TICKS_PER_QUARTER } from '../music/units.ts';
import { feltBeats } from '../tests-engine/index.ts';
import { t } from './messages.ts';

type Timed = Pick<PracticeTest, 'phrase'>;

const barTicks = ({ beats, beatUnit }: Metre): number => (beats * 4 * TICKS_PER_QUARTER) / beatUnit;

/** Ticks of the beat that is counted where all are alike (6/8: a dotted crotchet); null in 7/8. */
function oneBeat(metre: Metre): number | null {
  const starts = [...feltBeats(metre), barTicks(metre)];
  const lengths = new Set(starts.slice(1).map((at, i) => at - starts[i]!));
  return lengths.size === 1 ? [...lengths][0]! : null;
}

/** Where in its beat a note begins, in the words of the count. `length` of the beat in ticks. */
function within(offset: number, length: number, beat: number): string {
  if (offset === 0) return t('place.on', { beat });
  if (length % (TICKS_PER_QUARTER * 1.5) === 0 || length % TICKS_PER_QUARTER !== 0) {
    const quaver = TICKS_PER_QUARTER / 2;
    if (offset % quaver !== 0) return t('place.in', { beat });
    return t(offset === quaver ? 'place.quaver.second' : 'place.quaver.third', { beat });
  }
  const share = offset / length;
  if (share === 1 / 2) return t('place.and', { beat });
  if (share === 1 / 3) return t('place.triplet.second', { beat });
  if (share === 2 / 3) return t('place.triplet.third', { beat });
  if (share === 1 / 4) return t('place.semiquaver.second', { beat });
  return share === 3 / 4 ? t('place.semiquaver.fourth', { beat }) : t('place.in', { beat });
}

/** "bar 2, beat 3 and": where a written note begins, in the beats that the count-in counts. */
export function placeOf({ phrase }: Timed, noteIndex: number): string {
  const note = phrase.notes[noteIndex];
  if (!note) return t('advice.place.note', { note: noteIndex + 1 });
  const whole = barTicks(phrase.metre);
  const bar = Math.floor(note.startTicks / whole);
  const inBar = note.startTicks - bar * whole;
  const starts = feltBeats(phrase.metre);
  const index = starts.findLastIndex((at) => at <= inBar);
  const length = (starts[index + 1] ?? whole) - starts[index]!;
  return t('place.bar', { bar: bar + 1, place: within(inBar - starts[index]!, length, index + 1) });
}

const NAMED: readonly (readonly [number, () => string])[] = [
  [1 / 4, () => t('advice.by.quarter')],
  [1 / 3, () => t('advice.by.third')],
  [1 / 2, () => t('advice.by.half')],
  [2 / 3, () => t('advice.by.two-thirds')],
  [3 / 4, () => t('advice.by.three-quarters')],
  [1, () => t('advice.by.one')],
  [3 / 2, () => t('advice.by.one-and-half')],
];

/** "half a beat": an amount in units of the metre, said in the beats that are counted; in 7/8 in its quavers. */
export function amountOf({ phrase }: Timed, units: number): string {
  const unit = (4 * TICKS_PER_QUARTER) / phrase.metre.beatUnit;
  const beat = oneBeat(phrase.metre);
  if (beat === null)
    return units === 1 ? t('advice.by.quaver') : t('advice.by.quavers', { count: Math.round(units * 2) / 2 });
  const beats = (units * unit) / beat;
  // A twelfth apart at least: nothing else lies so near.
  const named = NAMED.find(([size]) => Math.abs(size - beats) < 1 / 24);
  return named ? named[1]() : t('advice.by.beats', { beats: Math.round(beats * 2) / 2 });
}
