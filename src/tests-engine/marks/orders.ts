/**
 * The orders in which played notes may be taken in. Notes further apart come in the order they were struck; notes
 * struck almost together come in any order, at a price that grows from nothing with their distance. Without it the
 * mark would jump where notes change places.
 */
export interface Orders {
  /** Sets of notes taken in so far: none first, all last, larger ones later. */
  readonly sets: number;
  /** Of each set: its size, the first note not in it, and bit b for "note first + 1 + b is in it". */
  readonly size: Int32Array;
  readonly first: Int32Array;
  readonly ahead: Int32Array;
  /** Steps that lead to set k: `into[k]` to before `into[k + 1]`. */
  readonly into: Int32Array;
  /** Of each step: the set it comes from, the note it takes in, and what it costs in seconds out of order. */
  readonly from: Int32Array;
  readonly note: Int32Array;
  readonly late: Float64Array;
  /** Every note in the order it was struck, and no other order. */
  readonly plain: boolean;
}

/** Notes that may be taken in before one that was struck first: more at once are no longer notes. */
export const AHEAD = 4;
/** Steps times written notes up to which other orders are looked at: 150 MB of tables. */
const MOST_CELLS = 4e6;

let chain: Orders = chainOf(64);

function chainOf(m: number): Orders {
  const upTo = (count: number, by: number): Int32Array =>
    Int32Array.from({ length: count }, (_, k) => Math.max(0, k + by));
  return {
    sets: m + 1,
    size: upTo(m + 1, 0),
    first: upTo(m + 1, 0),
    ahead: new Int32Array(m + 1),
    into: upTo(m + 2, -1),
    from: upTo(m, 0),
    note: upTo(m, 0),
    late: new Float64Array(m),
    plain: true,
  };
}

/**
 * @param s onsets, ascending
 * @param within notes nearer than this many seconds may change places
 * @param written how many notes each step is tried on; bounds the number of orders
 */
export function ordersOf(s: Float64Array, within: number, written: number): Orders {
  const m = s.length;
  let near = false;
  for (let j = 1; j < m && !near; j++) near = s[j] - s[j - 1] < within;
  const found = near ? latticeOf(s, within, MOST_CELLS / written) : null;
  if (found) return found;
  if (chain.note.length < m) chain = chainOf(2 * m);
  return chain.sets === m + 1 ? chain : { ...chain, sets: m + 1 };
}

/** null where it would take more than `most` steps. */
function latticeOf(s: Float64Array, within: number, most: number): Orders | null {
  const m = s.length;
  const [size, first, ahead] = [[0], [0], [0]];
  const steps: { from: number; to: number; note: number; late: number }[] = [];
  for (let set = 0; set < size.length; set++) {
    const [low, mask] = [first[set], ahead[set]];
    for (let b = -1; b < AHEAD; b++) {
      const j = low + 1 + b;
      if (j >= m || (b >= 0 && s[j] - s[low] >= within)) break;
      if (b >= 0 && mask & (1 << b)) continue;
      let [next, rest] = [low, b < 0 ? mask : mask | (1 << b)];
      if (b < 0) {
        next++;
        while (rest & 1) [next, rest] = [next + 1, rest >> 1];
        rest >>= 1;
      }
      // Sets of one size stand together at the end.
      let to = size.length - 1;
      while (size[to] > size[set] && !(first[to] === next && ahead[to] === rest)) to--;
      if (size[to] === size[set]) {
        to = size.length;
        size.push(size[set] + 1);
        first.push(next);
        ahead.push(rest);
      }
      let late = 0;
      for (let c = b + 1; c < AHEAD; c++) if (mask & (1 << c)) late += s[low + 1 + c] - s[j];
      steps.push({ from: set, to, note: j, late });
    }
    if (steps.length > most) return null;
  }
  steps.sort((x, y) => x.to - y.to);
  const into = new Int32Array(size.length + 1);
  for (const { to } of steps) into[to + 1]++;
  for (let k = 0; k < size.length; k++) into[k + 1] += into[k];
  return {
    sets: size.length,
    size: Int32Array.from(size),
    first: Int32Array.from(first),
    ahead: Int32Array.from(ahead),
    into,
    from: Int32Array.from(steps, (x) => x.from),
    note: Int32Array.from(steps, (x) => x.note),
    late: Float64Array.from(steps, (x) => x.late),
    plain: false,
  };
}

/** Whether everything in set `a` is in set `b` too. */
export function isWithin({ first, ahead }: Orders, a: number, b: number): boolean {
  const by = first[b] - first[a];
  if (by < 0) return false;
  if (by === 0) return (ahead[a] & ~ahead[b]) === 0;
  if (by > AHEAD) return true;
  // The first note missing from b, and what a holds beyond it.
  return ((ahead[a] >> (by - 1)) & 1) === 0 && ((ahead[a] >> by) & ~ahead[b]) === 0;
}
