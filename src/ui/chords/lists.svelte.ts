import { chordList, type ChordList } from '../../tests-engine/index.ts';
import { t } from '../messages.ts';
import { KeptList, type Kept } from '../screens/phrases/kept.svelte.ts';
import type { Settings } from '../settings/types.ts';

/** The lists of chords of whoever uses this machine. */
export const ownChords = new KeptList<ChordList>('ownChords', chordList);

/** The own list that is asked; null where kinds and key are, or where it is gone. */
export const chosenChords = ({ list }: Settings['chords']): Kept<ChordList> | null =>
  ownChords.now?.find(({ id }) => id === list) ?? null;

/** Kinds of shape, and every own list, to choose from. */
export const chordListOptions = (): { value: string; label: string }[] => [
  { value: '', label: t('chords.list.kinds') },
  ...(ownChords.now ?? []).map(({ id, name }) => ({ value: id, label: name })),
];
