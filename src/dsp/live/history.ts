/**
 * The last seconds of an endless stream, addressed by absolute sample index. Memory is fixed: when the store is
 * full its newer half is moved to the front.
 */
export interface History {
  /** Index one past the newest sample. */
  readonly end: () => number;
  append(block: Float32Array): void;
  /** Samples `from`…`to − 1`, a view valid until the next append; what is no longer or not yet held is cut off. */
  view(from: number, to: number): Float32Array;
  /** Index of the oldest sample held. */
  readonly start: () => number;
}

/** @param keep samples that are always held once seen */
export function createHistory(keep: number): History {
  const store = new Float32Array(2 * keep);
  let base = 0;
  let filled = 0;
  return {
    end: () => base + filled,
    start: () => base,
    append(block) {
      for (let at = 0; at < block.length;) {
        if (filled === store.length) {
          store.copyWithin(0, keep);
          base += keep;
          filled = keep;
        }
        const count = Math.min(block.length - at, store.length - filled);
        store.set(block.subarray(at, at + count), filled);
        filled += count;
        at += count;
      }
    },
    view: (from, to) =>
      store.subarray(Math.min(filled, Math.max(0, from - base)), Math.min(filled, Math.max(0, to - base))),
  };
}
