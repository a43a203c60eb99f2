import { ExchangeError } from '../exchange/index.ts';
import {
  ChordFormatError,
  ScaleFormatError,
  ShortCodeError,
  TestFormatError,
} from '../tests-engine/index.ts';
import type { RefusalValues } from '../music/refusal.ts';
import type { RefusalCode } from './messages/english/refusals.ts';

/** Why something was not taken, before it is put into words (`refusalText`): a worker does not know the language. */
export interface Refused {
  readonly code: RefusalCode;
  readonly values: RefusalValues;
}

/** What a reader gives, or why it refuses. What it throws beside its refusals goes through. */
export function tried<T>(read: () => T): { readonly read: T } | { readonly refused: Refused } {
  try {
    return { read: read() };
  } catch (error) {
    if (
      error instanceof ExchangeError ||
      error instanceof TestFormatError ||
      error instanceof ShortCodeError ||
      error instanceof ScaleFormatError ||
      error instanceof ChordFormatError
    )
      return { refused: { code: error.code, values: error.values } };
    throw error;
  }
}
