/** Reads a phrase from a file off the page's thread: whatever the file holds, the page answers, and can end it. */
import { openBytes } from './openBytes.ts';
import type { ImportOptions } from '../../../exchange/index.ts';

export interface PhraseFile {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly options: ImportOptions;
  readonly fileName: string;
}

self.onmessage = ({ data: { bytes, options, fileName } }: MessageEvent<PhraseFile>) =>
  self.postMessage(openBytes(bytes, options, fileName));
