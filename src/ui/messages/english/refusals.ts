import { REFUSALS as OF_FILES, type RefusalCode as FileRefusal } from '../../../exchange/refusals/index.ts';
import {
  REFUSALS as OF_TESTS,
  type RefusalCode as TestRefusal,
} from '../../../tests-engine/refusals/index.ts';
import type { Text } from '../types.ts';

export type RefusalCode = FileRefusal | TestRefusal;
/** A language's sentences: one for every code that a file, link, code or table may be refused with. */
export type Refusals = Readonly<Record<RefusalCode, Text>>;

/** As the command line says them; what of a test is wrong, key by key, is nothing for a player. */
export const REFUSALS: Refusals = {
  ...OF_FILES,
  ...OF_TESTS,
  'test-newer': 'This test was made by a newer Twobar; update Twobar or ask for an older export.',
  'test-unread':
    'This is not a test Twobar can read; make the test again or ask its sender for a fresh copy.',
};
