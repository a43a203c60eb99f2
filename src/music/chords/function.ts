import { type Chord, pitchClass } from './chord.ts';
import { quality } from './qualities.ts';

/**
 * What a chord does in its key.
 *
 * `tonic`, `predominant` and `dominant` as in functional harmony: I, vi and iii rest, ii and IV lead away, V
 * and vii° lead home (M. Gotham et al., Open Music Theory, 2nd ed., chapters "Introduction to Harmony, Cadences,
 * and Phrase Endings" and "Strengthening Endings with Strong Predominants"; from memory). `modal`: a chord that
 * belongs to the scale but leads by colour and not by a leading note (bVII, bIII, bVI, a minor v), as rock and
 * modal music use it (T. de Clercq & D. Temperley, "A corpus analysis of rock harmony", Popular Music 30, 2011;
 * from memory). `foreign`: none of these.
 */
export type ChordFunction = 'tonic' | 'predominant' | 'dominant' | 'modal' | 'foreign';

const NUMERALS = ['I', 'bII', 'II', 'bIII', 'III', 'IV', '#IV', 'V', 'bVI', 'VI', 'bVII', 'VII'];

/** Semitones of the chord's root above a tonic. @throws RangeError where one of them is no note. */
export function degreeAbove(root: string, tonic: string): number {
  const [r, t] = [pitchClass(root), pitchClass(tonic)];
  if (r === null || t === null) throw new RangeError(`"${root}" over "${tonic}": both must be note names`);
  return (r - t + 12) % 12;
}

const third = (chord: Pick<Chord, 'quality'>): 'minor' | 'major' | 'none' => {
  const { intervals } = quality(chord.quality);
  return intervals.includes(3) ? 'minor' : intervals.includes(4) ? 'major' : 'none';
};

/**
 * Roman numeral against the major scale of the tonic: "I", "bVII", "iv7", "vii°". Lower case where the third is
 * minor; the kind of seventh or fifth behind it.
 */
export function romanNumeral(chord: Pick<Chord, 'root' | 'quality'>, tonic: string): string {
  const numeral = NUMERALS[degreeAbove(chord.root, tonic)]!;
  const { suffix } = quality(chord.quality);
  if (third(chord) !== 'minor') return numeral + suffix;
  const low = numeral.replace(/[IV]+/, (letters) => letters.toLowerCase());
  return low + suffix.replace(/^dim/, '°').replace(/^m7b5/, 'ø7').replace(/^m/, '');
}

/**
 * The chord's function in a key.
 * @param minor whether the key's own third is minor.
 */
export function functionOf(
  chord: Pick<Chord, 'root' | 'quality'>,
  tonic: string,
  minor: boolean,
): ChordFunction {
  const degree = degreeAbove(chord.root, tonic);
  const { intervals } = quality(chord.quality);
  const isMinor = third(chord) === 'minor';
  const diminished = isMinor && intervals.includes(6);
  if (degree === 0) return 'tonic';
  if (degree === 11) return diminished ? 'dominant' : 'foreign';
  if (degree === 7) return isMinor ? 'modal' : 'dominant';
  if (degree === 5) return 'predominant';
  if (degree === 2) return isMinor ? 'predominant' : 'foreign';
  if (degree === 10) return isMinor ? 'foreign' : 'modal';
  if (minor) {
    if (degree === 3 || degree === 8) return isMinor ? 'foreign' : 'modal';
    return 'foreign';
  }
  if (degree === 9 || degree === 4) return isMinor && !diminished ? 'tonic' : 'foreign';
  if (degree === 3 || degree === 8) return isMinor ? 'foreign' : 'modal';
  return 'foreign';
}
