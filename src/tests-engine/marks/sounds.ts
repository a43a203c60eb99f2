/**
 * What may be taken as the pitch of each struck note: its own, or for a price that of another one struck near it. Notes
 * that change places in time thereby change nothing at that instant, however many are struck together, and the
 * alignment itself may keep to the order of time.
 */
export interface Sounds {
  /** Sounds of struck note j: `from[j]` to before `from[j + 1]`, its own first. */
  readonly from: Int32Array;
  /** Of each sound: the note struck, the note whose pitch is taken, and its price in points. */
  readonly struck: Int32Array;
  readonly source: Int32Array;
  readonly price: Float64Array;
}

/** Sounds times written notes up to which other pitches are looked at: 100 MB of tables. */
const MOST_CELLS = 4e6;

let own: Sounds = ownOf(64);

function ownOf(m: number): Sounds {
  const each = Int32Array.from({ length: m + 1 }, (_, j) => j);
  return { from: each, struck: each, source: each, price: new Float64Array(m) };
}

/**
 * @param s onsets, ascending
 * @param q pitches
 * @param perSec points for each second between a note and the one whose pitch it takes; 0: none does
 * @param most points that a pitch can be worth: dearer ones are left out
 * @param written notes that each sound is tried on; bounds the number of sounds
 */
export function soundsOf(
  s: Float64Array,
  q: Float64Array,
  perSec: number,
  most: number,
  written: number,
): Sounds {
  const m = s.length;
  const reach = perSec > 0 ? most / perSec : 0;
  let near = false;
  for (let j = 1; j < m && !near; j++) near = s[j]! - s[j - 1]! < reach;
  if (near) {
    const [from, struck, source, price] = [
      new Int32Array(m + 1),
      [] as number[],
      [] as number[],
      [] as number[],
    ];
    for (let j = 0; j < m && struck.length * written <= MOST_CELLS; j++) {
      struck.push(j);
      source.push(j);
      price.push(0);
      for (let way = -1; way <= 1; way += 2)
        for (let k = j + way; k >= 0 && k < m; k += way) {
          const cost = perSec * Math.abs(s[k]! - s[j]!);
          if (cost >= most) break;
          if (q[k] === q[j]) continue;
          struck.push(j);
          source.push(k);
          price.push(cost);
        }
      from[j + 1] = struck.length;
    }
    if (struck.length * written <= MOST_CELLS)
      return {
        from,
        struck: Int32Array.from(struck),
        source: Int32Array.from(source),
        price: Float64Array.from(price),
      };
  }
  if (own.price.length < m) own = ownOf(2 * m);
  return own;
}
