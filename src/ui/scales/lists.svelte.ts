import { levelList, scaleList, type ScaleList } from '../../tests-engine/index.ts';
import type { Instrument } from '../../music/score.ts';
import { t } from '../messages.ts';
import { KeptList } from '../screens/phrases/kept.svelte.ts';

/** The lists of whoever uses this machine. */
export const ownScales = new KeptList<ScaleList>('ownScales', scaleList);

const LEVEL = /^level (\d+)$/;

/** One of our lists, as `scales.list` of the settings names it; null: the id of an own one. */
export function levelOfList(id: string): number | null {
  const level = Number(LEVEL.exec(id)?.[1] ?? 0);
  return level >= 1 && level <= 10 ? level : null;
}

/** Every list there is, the own ones first, to choose from. */
export const listOptions = (): { value: string; label: string }[] => [
  ...(ownScales.now ?? []).map(({ id, name }) => ({ value: id, label: name })),
  ...Array.from({ length: 10 }, (_, i) => ({
    value: `level ${i + 1}`,
    label: t('scales.list.level', { level: i + 1 }),
  })),
];

export interface ChosenList {
  readonly list: ScaleList;
  /** 1…10 where it is one of ours. */
  readonly level: number | null;
  /** Its id where it is an own one. */
  readonly ownId: string | null;
}

/** The list chosen: one of ours, or an own one; the first of ours where that is gone. */
export function chosenList(id: string, instrument: Instrument): ChosenList {
  const level = levelOfList(id);
  const own = level === null ? ownScales.now?.find((one) => one.id === id) : undefined;
  if (own) return { list: { ...own.value, name: own.name, instrument }, level: null, ownId: own.id };
  return { list: levelList(level ?? 1, instrument), level: level ?? 1, ownId: null };
}
