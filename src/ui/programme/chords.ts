import type { ChordTest } from '../../music/chords/index.ts';
import { makeChords, type ChordRequest } from '../../tests-engine/index.ts';
import { freshSeed } from '../session/choose.ts';
import type { Settings } from '../settings/types.ts';

/** What the settings ask for; a band plays under a progression alone. */
export function chordRequest({
  over,
  key,
  said,
  ...rest
}: Settings['chords']): Omit<ChordRequest, 'seed' | 'weak'> {
  const band = over === 'band' && rest.how === 'progression';
  return {
    ...(said && rest.how === 'named' ? { said } : {}),
    ...rest,
    ...(key ? { key } : {}),
    ...(band ? { style: 'rock' } : {}),
  };
}

/** A fresh list. @throws RangeError where no chord of the kinds belongs to the key */
export const freshChords = (settings: Settings['chords'], weak: readonly string[] = []): ChordTest =>
  makeChords({ ...chordRequest(settings), weak, seed: freshSeed() });
