import { type Chord, chordClasses } from '../../../music/chords/index.ts';

/** A chord as three sounding notes, lowest first; the bass (or the keys' root) lies under them. */
export type Voicing = readonly [number, number, number];

/** Three voices stay within a tenth, as a hand plays them. */
const WIDEST = 16;
/** The top voice of the window, above its floor: an octave and a sixth of room to move in. */
const WINDOW = 19;

/**
 * The tones the three upper voices take: a triad whole; of a chord with a seventh third and seventh, and root or
 * fifth (the bass has the root); of two tones the root twice, or the fifth where the root has but one place in the window.
 */
function toneSets(chord: Chord, floor: number): readonly (readonly number[])[] {
  const pcs = chordClasses(chord);
  const [low, high] = [pcs[0]!, pcs[1]!];
  if (pcs.length === 2) return [placesOf(low, floor).length > 1 ? [low, high, low] : [high, low, high]];
  if (pcs.length === 3) return [pcs];
  const [root, third, fifth, seventh] = pcs as readonly [number, number, number, number];
  return [
    [third, fifth, seventh],
    [root, third, seventh],
  ];
}

/** Where a class lies in the window: once or twice. */
function placesOf(pc: number, floor: number): number[] {
  const low = floor + ((((pc - floor) % 12) + 12) % 12);
  return low + 12 <= floor + WINDOW ? [low, low + 12] : [low];
}

function voicings(chord: Chord, floor: number): readonly Voicing[] {
  const found = new Map<string, Voicing>();
  const at = (pc: number): number[] => placesOf(pc, floor);
  for (const [a, b, c] of toneSets(chord, floor) as readonly (readonly [number, number, number])[])
    for (const x of at(a))
      for (const y of at(b))
        for (const z of at(c)) {
          const sorted = [x, y, z].sort((p, q) => p - q) as [number, number, number];
          if (new Set(sorted).size === 3 && sorted[2] - sorted[0] <= WIDEST) found.set(sorted.join(), sorted);
        }
  return [...found.values()];
}

/** Two lines in parallel fifths or octaves: the same perfect interval twice, both having moved. */
export function parallels(from: readonly number[], to: readonly number[]): number {
  let count = 0;
  for (let i = 0; i < from.length; i++)
    for (let j = i + 1; j < from.length; j++) {
      if (from[i] === to[i] || from[j] === to[j]) continue;
      const [before, after] = [(from[j]! - from[i]!) % 12, (to[j]! - to[i]!) % 12];
      const same = before === after && Math.sign(to[i]! - from[i]!) === Math.sign(to[j]! - from[j]!);
      if (same && (before === 0 || before === 7)) count++;
    }
  return count;
}

/** A voice that moves further than a major third leaps. */
const LEAP = 4;
const COST = { semitone: 1, leap: 3, parallel: 8, offCentre: 0.25 };

/**
 * Voicings for chords in a row, in which every voice moves as little as it can (dynamic programming over all
 * close and half-open positions): common tones stay, inner voices do not leap, no parallel fifths or octaves
 * among the voices and the root under them.
 *
 * @param floor the lowest MIDI number a voice may have. @param bass MIDI number under each chord.
 */
export function leadVoices(
  chords: readonly Chord[],
  floor: number,
  bass: readonly number[],
): readonly Voicing[] {
  interface Path {
    readonly cost: number;
    readonly line: readonly Voicing[];
  }
  const centre = floor + WINDOW / 2;
  let paths: readonly Path[] = [];
  chords.forEach((chord, i) => {
    const next: Path[] = [];
    for (const voicing of voicings(chord, floor)) {
      const off = COST.offCentre * Math.abs((voicing[0] + voicing[2]) / 2 - centre);
      if (i === 0) {
        next.push({ cost: off, line: [voicing] });
        continue;
      }
      let best: Path | null = null;
      let least = Infinity;
      for (const path of paths) {
        const before = path.line[i - 1]!;
        let move = 0;
        for (let k = 0; k < 3; k++) {
          const apart = Math.abs(voicing[k]! - before[k]!);
          move += COST.semitone * apart + (apart > LEAP ? COST.leap : 0);
        }
        move += COST.parallel * parallels([bass[i - 1]!, ...before], [bass[i]!, ...voicing]);
        if (path.cost + move < least) [best, least] = [path, path.cost + move];
      }
      next.push({ cost: least + off, line: [...best!.line, voicing] });
    }
    paths = next;
  });
  return paths.length === 0 ? [] : paths.reduce((a, b) => (b.cost < a.cost ? b : a)).line;
}
