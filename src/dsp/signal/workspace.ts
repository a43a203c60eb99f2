/**
 * Memory that is used again. A long take is heard stretch by stretch, and each stretch needs the same arrays: where they
 * are made anew the system has to find fresh pages for them, which takes as long as all that is computed in them.
 */
export interface Workspace {
  /**
   * Runs `work`; {@link doubles} and {@link floats} hand out this memory meanwhile, from its beginning. What `work` returns
   * must hold none of those arrays: the next stretch writes over them.
   */
  use<T>(work: () => T): T;
}

/** Memory is asked for in pieces of at least so many bytes. */
const PIECE = 32 * 2 ** 20;

let inUse: ((bytes: number) => { buffer: ArrayBuffer; at: number }) | null = null;

export function createWorkspace(): Workspace {
  const pieces: ArrayBuffer[] = [];
  let piece = 0;
  let at = 0;
  const take = (bytes: number): { buffer: ArrayBuffer; at: number } => {
    const size = 8 * Math.ceil(bytes / 8);
    while (piece < pieces.length && at + size > pieces[piece]!.byteLength) [piece, at] = [piece + 1, 0];
    if (piece === pieces.length) pieces.push(new ArrayBuffer(Math.max(PIECE, size)));
    const given = { buffer: pieces[piece]!, at };
    at += size;
    return given;
  };
  return {
    use(work) {
      if (inUse) throw new Error('a workspace is in use already');
      [piece, at, inUse] = [0, 0, take];
      try {
        return work();
      } finally {
        inUse = null;
      }
    },
  };
}

/** `length` zeros: of the workspace in use, else of their own. */
export function doubles(length: number): Float64Array {
  if (!inUse) return new Float64Array(length);
  const { buffer, at } = inUse(8 * length);
  return new Float64Array(buffer, at, length).fill(0);
}

/** The same in single precision. */
export function floats(length: number): Float32Array {
  if (!inUse) return new Float32Array(length);
  const { buffer, at } = inUse(4 * length);
  return new Float32Array(buffer, at, length).fill(0);
}

/** A copy in single precision. */
export function singles(of: ArrayLike<number>): Float32Array {
  const out = floats(of.length);
  out.set(of);
  return out;
}
