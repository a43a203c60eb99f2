import type { Advice } from '../tests-engine/index.ts';
import { ADVICE, fill, t } from './messages.ts';

type Values = Advice['values'];

const number = (values: Values, name: string): number | null =>
  typeof values[name] === 'number' ? values[name] : null;

function place(values: Values): string {
  const bar = number(values, 'bar');
  const beat = number(values, 'beat');
  if (bar !== null && beat !== null) return t('advice.place.bar', { bar, beat });
  return t('advice.place.note', { note: number(values, 'note') ?? 1 });
}

function interval(values: Values): string {
  const size = Math.abs(number(values, 'semitones') ?? 0);
  if (size === 1) return t('advice.interval.semitone');
  if (size === 2) return t('advice.interval.tone');
  return t('advice.interval.more', { count: size });
}

function by(values: Values): string {
  const beats = number(values, 'beats');
  if (beats === null) return t('unit.ms', { ms: number(values, 'ms') ?? 0 });
  if (beats === 0.5) return t('advice.by.half');
  return beats === 1 ? t('advice.by.one') : t('advice.by.beats', { beats });
}

/** The sentence a teacher would say. */
export function adviceText({ code, values }: Advice): string {
  const up = (number(values, 'semitones') ?? number(values, 'octaves') ?? 0) > 0;
  return fill(ADVICE[code], {
    ...values,
    place: place(values),
    interval: interval(values),
    high: up ? t('advice.high') : t('advice.low'),
    higher: up ? t('advice.higher') : t('advice.lower'),
    by: by(values),
  });
}
