import { Note } from 'tonal';
import { POSITIONS, makeTest } from '../../../src/tests-engine/index.ts';
import { COLOUR } from '../../../src/tests-engine/material/melody/shape.ts';

/** Lowest and highest fret of the index finger in each of the positions that are told apart. */
const HANDS = { 'I–II': [1, 2], 'III–IV': [3, 4], 'V–VI': [5, 6], 'VII–XI': [7, 11], XII: [12, 24] } as const;

/** Share of melodies, by position asked for and level, of which a note lies neither under the hand there nor open at fret 1. */
export function keptPositions(tests: number, from: number): void {
  console.log(
    `\na position asked for and not kept, % of ${tests} melodies a level from seed ${from}, levels 1…10`,
  );
  for (const position of ['open', 'II', 'V', 'VII', 'XII'] as const) {
    const [hand] = POSITIONS[position];
    const shares = Array.from({ length: 10 }, (_, i) => {
      const lost = Array.from({ length: tests }, (_, k) =>
        makeTest({
          ...{ kind: 'melody', level: i + 1, seed: from + k * 13, position },
          instrument: k % 2 ? 'bass' : 'guitar',
        } as const),
      ).filter(
        ({ phrase }) =>
          !phrase.notes.every(({ fret }) => (hand === 1 && fret === 0) || (fret >= hand && fret < hand + 4)),
      );
      return ((100 * lost.length) / tests).toFixed(1);
    });
    console.log(`${position.padEnd(5)} ${shares.join(' ')}`);
  }
}

/** Of one level's melodies, %: highest fret ≤ 5, the colour note; and the longest. */
export interface Placed {
  readonly five: number;
  readonly colour: number;
  readonly longest: number;
}

/** Frets, positions, lengths and colour notes of melodies, by level, over fresh seeds; guitar and bass in turn. */
export function places(tests: number, from: number): readonly Placed[] {
  const placed: Placed[] = [];
  console.log(
    `\nmelodies (${tests} a level from seed ${from}): level  notes least median most | % highest fret ≤ 5, ≤ 7, ≥ 8 | % lowest fretted note in ${Object.keys(HANDS).join(', ')} | % with an open string | % with the colour note | % spelled Fb, Cb, E# or B#`,
  );
  for (let level = 1; level <= 10; level++) {
    const counts = { five: 0, seven: 0, eight: 0, open: 0, colour: 0, odd: 0 };
    const hands = new Map<string, number>();
    const lengths: number[] = [];
    for (let i = 0; i < tests; i++) {
      const test = makeTest({
        kind: 'melody',
        level,
        seed: from + i * 13,
        instrument: i % 2 ? 'bass' : 'guitar',
      });
      const { notes } = test.phrase;
      const highest = Math.max(...notes.map((n) => n.fret));
      lengths.push(notes.length);
      // Open strings alone belong to the open position.
      const lowest = Math.min(...notes.map((n) => n.fret).filter((fret) => fret > 0), 24) % 24 || 1;
      const hand = Object.entries(HANDS).find(([, [a, b]]) => lowest >= a && lowest <= b)![0];
      hands.set(hand, (hands.get(hand) ?? 0) + 1);
      if (highest <= 5) counts.five++;
      if (highest <= 7) counts.seven++;
      else counts.eight++;
      if (notes.some((n) => n.fret === 0)) counts.open++;
      const tonic = Note.chroma(test.key.tonic)!;
      if (notes.some((n) => COLOUR[test.key.scale]!.includes((n.midi - tonic + 120) % 12))) counts.colour++;
      if (notes.some((n) => /^(Fb|Cb|E#|B#)/.test(n.spelling))) counts.odd++;
    }
    lengths.sort((a, b) => a - b);
    const share = (n: number): string => ((100 * n) / tests).toFixed(1).padStart(6);
    console.log(
      `${String(level).padStart(4)} ${lengths[0]} ${lengths[tests >> 1]} ${lengths.at(-1)} | ${share(counts.five)} ${share(counts.seven)} ${share(counts.eight)} | ${Object.keys(
        HANDS,
      )
        .map((name) => share(hands.get(name) ?? 0))
        .join(' ')} | ${share(counts.open)} | ${share(counts.colour)} | ${share(counts.odd)}`,
    );
    placed.push({
      five: (100 * counts.five) / tests,
      colour: (100 * counts.colour) / tests,
      longest: lengths.at(-1)!,
    });
  }
  return placed;
}
