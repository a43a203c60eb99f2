import type { Engraver } from './layout.ts';

let loading: Promise<Engraver> | null = null;

/** Fetches the engraving library and its font, once. Rejects when they cannot be fetched; may be asked again. */
export function loadEngraver(): Promise<Engraver> {
  loading ??= import('./vexflow.ts').then((door) => door.openEngraver());
  loading.catch(() => {
    loading = null;
  });
  return loading;
}
