import type { ImprovisingTask } from '../music/task.ts';
import type { Fact, FactCode, ToldCode } from '../tests-engine/index.ts';
import { fill, t, TOLD, TOLD_FACTS, type MessageKey } from './messages.ts';
import { pitchName } from './names.ts';

/** What comes from elsewhere may hold a word in a number's place. */
const number = (values: Fact['values'], name: string): number => {
  const value = Number(values[name] ?? 0);
  return Number.isFinite(value) ? value : 0;
};

/** "a third higher", from steps of the scale; beyond an octave only that it moved. */
function moved(steps: number): string {
  const size = Math.abs(steps);
  if (!Number.isInteger(size) || size < 1 || size > 7) return t('told.moved.far');
  const interval = t(`told.third.${size}` as MessageKey & `told.third.${1 | 2}`);
  return t(steps > 0 ? 'told.moved.up' : 'told.moved.down', { interval });
}

/** A sentence about an improvisation; empty for what only a newer app has words for. */
export function toldText({ code, values }: Fact): string {
  return Object.hasOwn(TOLD, code)
    ? fill(TOLD[code as ToldCode], { ...values, moved: moved(number(values, 'steps')) })
    : '';
}

const ENDS = { root: 'told.end.root', chord: 'told.end.chord', other: 'told.end.other' } as const;

/** One line of what was counted; empty for what only a newer app has words for. */
export function factText({ code, values }: Fact, { key }: Pick<ImprovisingTask, 'key'>): string {
  if (!Object.hasOwn(TOLD_FACTS, code)) return '';
  const bias = number(values, 'bias');
  const end = ENDS[String(values['on']) as keyof typeof ENDS] ?? ENDS.other;
  return fill(TOLD_FACTS[code as FactCode], {
    ...values,
    ...(code === 'range'
      ? { low: pitchName(number(values, 'low'), key), high: pitchName(number(values, 'high'), key) }
      : {}),
    ...(code === 'timing' ? { bias: Math.abs(bias), side: t(bias < 0 ? 'told.ahead' : 'told.behind') } : {}),
    ...(code === 'ending' ? { note: t(end) } : {}),
  });
}
