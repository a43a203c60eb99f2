import * as v from 'valibot';
import { firstIssue, pieceTask } from '../../../music/schema/index.ts';
import type { PieceTask } from '../../../music/task.ts';

/** Reads a piece with its part from JSON. @throws RangeError with the first thing that is wrong */
export function parsePiece(json: unknown): PieceTask {
  const parsed = v.safeParse(pieceTask, json, { abortEarly: true });
  if (!parsed.success) throw new RangeError(`this is no piece: ${firstIssue(parsed.issues)}`);
  return parsed.output as unknown as PieceTask;
}
