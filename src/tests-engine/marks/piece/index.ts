/** Marking a piece played along its own backing: note by note, by bars, and what happened to the whole. */
export { follow, type Followed } from './follow.ts';
export { markPiece, type MarkedPiece } from './markPiece.ts';
export type { BarState, PieceEvent, PiecePlayed, PieceRequest, PieceTarget } from './types.ts';
