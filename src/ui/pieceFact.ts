import type { Fact } from '../tests-engine/index.ts';
import { t, type MessageKey } from './messages.ts';

const CODES = ['piece-strokes', 'piece-bias', 'piece-spread', 'piece-silent', 'piece-few', 'piece-kept'];

/** What can be said of a piece whose notes nobody knows; empty for any other code. */
export const pieceFact = ({ code, values }: Fact): string =>
  CODES.includes(code)
    ? t(`piece.fact.${code}` as MessageKey & 'piece.fact.piece-silent', values as never)
    : '';
