import type { EngravedSystem, Piece, SystemRange } from './layout.ts';

/** Draws lines of music into elements of the page. */
export interface Engraver {
  /**
   * Replaces what `host` holds by one line of music.
   * @param width CSS pixels. @param scale 1 = staff lines 10 px apart.
   */
  drawSystem(
    host: HTMLElement,
    piece: Piece,
    range: SystemRange,
    width: number,
    scale: number,
  ): EngravedSystem;
}

let loading: Promise<Engraver> | null = null;

/** Fetches the engraving library and its font, once. Rejects when they cannot be fetched; may be asked again. */
export function loadEngraver(): Promise<Engraver> {
  loading ??= import('./vexflow.ts').then((door) => door.openEngraver());
  loading.catch(() => {
    loading = null;
  });
  return loading;
}
