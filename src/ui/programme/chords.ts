import type { ChordTest } from '../../music/chords/index.ts';
import { makeChords, type ChordRequest } from '../../tests-engine/index.ts';
import { chosenChords } from '../chords/lists.svelte.ts';
import { freshSeed } from '../session/choose.ts';
import type { Settings } from '../settings/types.ts';

/** What the settings ask for: kinds and a key, or an own list; a band plays under a progression alone. */
export function chordRequest(settings: Settings['chords']): Omit<ChordRequest, 'seed' | 'weak'> {
  const { how, families, key, voicing, count, tempoBpm, over, driven, said } = settings;
  const own = chosenChords(settings)?.value.chords ?? [];
  return {
    ...{ how, families, voicing, count, tempoBpm, driven },
    ...(said && how === 'named' ? { said } : {}),
    ...(own.length > 0 ? { chords: own } : key ? { key } : {}),
    ...(over === 'band' && how === 'progression' ? { style: 'rock' as const } : {}),
  };
}

/** A fresh list. @throws RangeError where no chord of the kinds belongs to the key */
export const freshChords = (settings: Settings['chords'], weak: readonly string[] = []): ChordTest =>
  makeChords({ ...chordRequest(settings), weak, seed: freshSeed() });
