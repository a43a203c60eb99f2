import * as v from 'valibot';
import { chordSymbol, parseChord, pitchClass } from '../../../music/chords/index.ts';
import { LIMITS, text } from '../../../music/schema/index.ts';
import { isOfKey } from './inKey.ts';
import { CHORD_SHAPES, holdsItsChord, soundingOf, type ShapeFamily } from './shapes.ts';

/** One chord of a list of one's own. */
export interface ChordEntry {
  /** "F#m7". */
  readonly symbol: string;
  /** The shape that is asked for, lowest string first, null where a string is not struck; null: any that holds the chord. */
  readonly frets: readonly (number | null)[] | null;
}
/** A list of one's own: asked in an order that can't be foreseen, or in time in its own order. */
export interface ChordList {
  readonly name: string;
  readonly chords: readonly ChordEntry[];
}

/** Chords of one list at most. */
export const MOST_CHORDS = LIMITS.ownChords;
/** The shapes of lists are those of a guitar in standard tuning. */
const STRINGS = 6;

/** May it stand in a list? Its name is a chord's, and its shape holds that chord and nothing else, over the bass it names. */
export function chordFits({ symbol, frets }: ChordEntry): boolean {
  const chord = parseChord(symbol);
  if (chord === null || frets === null) return chord !== null;
  const lowest = Math.min(...soundingOf({ frets })) % 12;
  return (
    holdsItsChord({ chord, frets, family: 'open' }) &&
    (chord.bass === null || lowest === pitchClass(chord.bass))
  );
}

const entry = v.pipe(
  v.strictObject({
    symbol: text(20),
    frets: v.nullable(
      v.pipe(
        v.array(
          v.nullable(
            v.pipe(v.number(), v.integer(), v.minValue(LIMITS.frets[0]), v.maxValue(LIMITS.frets[1])),
          ),
        ),
        v.length(STRINGS),
      ),
    ),
  }),
  v.check((one) => chordFits(one), 'a chord, and a shape that holds it'),
);
/** Chords of a list of one's own, at every door. */
export const chordEntries = v.pipe(v.array(entry), v.minLength(1), v.maxLength(MOST_CHORDS));
const schema = v.strictObject({
  name: text(80),
  chords: v.pipe(v.array(entry), v.maxLength(MOST_CHORDS)),
});

/** A list of chords from JSON; null for what is none. */
export function chordList(json: unknown): ChordList | null {
  const parsed = v.safeParse(schema, json, { abortEarly: true });
  return parsed.success ? parsed.output : null;
}

/** Every shape of a kind, or those whose chord belongs to a key; none where the key has none of that kind. */
export const shapesOfKind = (
  family: ShapeFamily,
  key: { readonly tonic: string; readonly minor: boolean } | null,
): ChordEntry[] =>
  CHORD_SHAPES.filter((shape) => shape.family === family && (key === null || isOfKey(shape.chord, key))).map(
    ({ chord, frets }) => ({ symbol: chordSymbol(chord), frets }),
  );

/** "x32010"; with spaces where a fret has two figures: "x 10 12 12 11 10". */
export const fretsText = (frets: readonly (number | null)[]): string =>
  frets.map((fret) => fret ?? 'x').join(frets.some((fret) => fret !== null && fret > 9) ? ' ' : '');

/** Reads {@link fretsText}, with spaces or dashes between the frets where need be; null for what is none. */
export function readFrets(written: string): (number | null)[] | null {
  const plain = written.trim().toLowerCase();
  const parts = /[\s,-]/.test(plain) ? plain.split(/[\s,-]+/) : [...plain];
  if (parts.length !== STRINGS || !parts.every((part) => /^(x|\d{1,2})$/.test(part))) return null;
  const frets = parts.map((part) => (part === 'x' ? null : Number(part)));
  return frets.some((fret) => fret !== null) ? frets : null;
}
