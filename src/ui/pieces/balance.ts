import type { Heard } from '../../music/notes.ts';

/** How loud player and backing are at the microphone. */
export type Balance =
  | {
      readonly kind: 'even' | 'backing-loud' | 'you-loud';
      /** You over the backing, dB. */ readonly db: number;
    }
  /** The microphone hears no backing: headphones. */
  | { readonly kind: 'unheard' }
  | { readonly kind: 'silent' };

/** Within this both are about as loud. Common practice, no source. */
const EVEN_DB = 4;
/** So much less than the backing is nobody playing: leftovers of the cancelling. */
const SILENT_DB = -24;

/**
 * Balance from what taking the backing out took away: the energy before over after is 1 + backing ÷ player.
 */
export function balanceOf({ reason, verdict, delayMs, cancellationDb }: Heard): Balance {
  if (verdict === 'refused' && (reason === 'silence' || reason === 'backing-only')) return { kind: 'silent' };
  if ((delayMs ?? null) === null || typeof cancellationDb !== 'number') return { kind: 'unheard' };
  const backingOverYou = 10 ** (cancellationDb / 10) - 1;
  const db = backingOverYou <= 0 ? 40 : -10 * Math.log10(backingOverYou);
  if (db < SILENT_DB) return { kind: 'silent' };
  if (Math.abs(db) <= EVEN_DB) return { kind: 'even', db };
  return { kind: db < 0 ? 'backing-loud' : 'you-loud', db };
}
