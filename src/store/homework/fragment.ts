import { fromBase64Url } from '../../exchange/index.ts';
import { ImportProblem } from '../problem.ts';

/** @throws ImportProblem 'corrupt' for anything that is not base64url, 'truncated' for what is cut off. */
export function fromFragment(text: string): Uint8Array<ArrayBuffer> {
  if (!/^[A-Za-z0-9_-]*$/.test(text)) throw new ImportProblem('corrupt', 'the link holds other characters');
  try {
    return fromBase64Url(text);
  } catch (error) {
    throw new ImportProblem('truncated', 'the link is cut off', error);
  }
}
