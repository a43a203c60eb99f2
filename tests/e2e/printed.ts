import { getDocumentProxy } from 'unpdf';

export const PAPERS = ['A4', 'Letter'] as const;

/** A run of text where it stands on its page, points from the lower left corner. */
export interface Printed {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}
/** Signs of the music font have no letters of their own (SMuFL: private use, U+E000 to U+F8FF). */
export const isMusic = (text: string): boolean => /^[\uE000-\uF8FF]+$/.test(text);

export async function pagesOf(pdf: Uint8Array): Promise<Printed[][]> {
  const document = await getDocumentProxy(new Uint8Array(pdf));
  const pages: Printed[][] = [];
  for (let n = 1; n <= document.numPages; n++) {
    const { items } = await (await document.getPage(n)).getTextContent();
    pages.push(
      items.flatMap((item) => {
        if (!('str' in item) || item.str.trim() === '') return [];
        const [, , , height, x, y] = item.transform as number[];
        return [{ text: item.str, x: x!, y: y!, width: item.width, height: Math.abs(height!) }];
      }),
    );
  }
  return pages;
}

/** Pairs of words of which one is printed over the other: bodies of letters, without the air above and below. */
export function overprinted(page: readonly Printed[]): string[] {
  const words = page.filter(({ text }) => !isMusic(text));
  return words.flatMap((one, i) =>
    words.slice(i + 1).flatMap((other) => {
      const across = Math.min(one.x + one.width, other.x + other.width) - Math.max(one.x, other.x);
      const up = Math.min(one.y + 0.6 * one.height, other.y + 0.6 * other.height) - Math.max(one.y, other.y);
      return across > 1 && up > 1 ? [`“${one.text}” and “${other.text}”`] : [];
    }),
  );
}
export const said = (page: readonly Printed[]): string => page.map(({ text }) => text).join(' ');
export const counted = (page: readonly Printed[], of: RegExp): number => [...said(page).matchAll(of)].length;
