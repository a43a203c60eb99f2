import { earTest, type AdviceCode, type Fact } from '../tests-engine/index.ts';
import type { PracticeTest } from '../music/score.ts';
import type { Task } from '../music/task.ts';
import { chordText } from './chordText.ts';
import { ADVICE, ADVICE_OF_KNOWN, fill, t } from './messages.ts';
import { ordinal } from './names.ts';
import { amountOf, placeOf } from './place.ts';
import { pieceFact } from './pieceFact.ts';
import { positionName } from './scaleName.ts';
import { toldText } from './told.ts';

type Values = Fact['values'];

const number = (values: Values, name: string): number | null =>
  typeof values[name] === 'number' ? values[name] : null;

function interval(values: Values): string {
  const size = Math.abs(number(values, 'semitones') ?? 0);
  if (size === 1) return t('advice.interval.semitone');
  if (size === 2) return t('advice.interval.tone');
  return t('advice.interval.more', { count: size });
}

/** Of a piece beside its backing: "from bar 4 to 6", "in bar 4", and by how much. */
function ofPiece(values: Values): { readonly where: string; readonly amount: string } {
  const [bar, toBar] = [number(values, 'bar') ?? 0, number(values, 'toBar') ?? 0];
  return {
    where: bar === toBar ? t('piece.in-bar', { bar }) : t('piece.in-bars', { bar, toBar }),
    amount: t('piece.beats-off', { count: number(values, 'beats') ?? 0 }),
  };
}

function by(values: Values, test: Pick<PracticeTest, 'phrase'>): string {
  const beats = number(values, 'beats');
  return beats === null ? t('unit.ms', { ms: number(values, 'ms') ?? 0 }) : amountOf(test, beats);
}

/**
 * The sentence a teacher would say. Its place is read from the written note, in the beats that the count-in counts:
 * what the marks give counts every quaver of 6/8.
 */
export function adviceText({ code, values }: Fact, of: Task | Pick<PracticeTest, 'phrase'>): string {
  const up = (number(values, 'semitones') ?? number(values, 'octaves') ?? 0) > 0;
  // Of chords; or what a newer app says and this one has no words for: that it was said is shown.
  if (!Object.hasOwn(ADVICE, code))
    return (
      chordText({ code, values }) ||
      toldText({ code, values }) ||
      pieceFact({ code, values }) ||
      t('advice.unknown', { code })
    );
  // A piece is told by bars, not by the notes of a phrase.
  if (!('phrase' in of) || 'track' in of)
    return fill(ADVICE[code as AdviceCode], { ...values, ...ofPiece(values) });
  const test = of;
  const known = 'kind' in of && earTest(of) === null;
  const sentence = (known ? ADVICE_OF_KNOWN[code] : undefined) ?? ADVICE[code as AdviceCode];
  return fill(sentence, {
    ...values,
    ...ofPiece(values),
    place: placeOf(test, (number(values, 'note') ?? 1) - 1),
    interval: interval(values),
    high: up ? t('advice.high') : t('advice.low'),
    higher: up ? t('advice.higher') : t('advice.lower'),
    by: by(values, test),
    fromString: ordinal(number(values, 'from') ?? 0),
    nextString: ordinal(number(values, 'to') ?? 0),
    positionName: positionName(number(values, 'position') ?? 0),
  });
}
