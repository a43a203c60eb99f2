import { dateBy } from '../messages.ts';

/** Hands a file to the user. */
export function saveFile(name: string, content: BlobPart, type: string): void {
  const url = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

/** Reads the file a user chose. */
export const readFile = async (file: File): Promise<Uint8Array<ArrayBuffer>> =>
  new Uint8Array(await file.arrayBuffer());

/** "24 Nov 2026" in the reader's language. */
export const dateText = (atMs: number): string =>
  dateBy({ day: 'numeric', month: 'short', year: 'numeric' }, atMs);
