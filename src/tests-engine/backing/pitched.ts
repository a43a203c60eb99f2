import type { Cue, PitchedVoice, PracticeTest } from '../../music/score.ts';
import { midi, sec } from '../../music/units.ts';
import type { Hit } from './bar.ts';
import type { Chord } from './candidates.ts';
import type { Harmony } from './harmony.ts';
import { atOrAbove, closeVoicing } from './voicing.ts';

/** Strokes of a row's signs as velocities; the backing lies under the phrase, which is played at 0.85. */
export const STROKE: Readonly<Record<string, number>> = { X: 0.85, x: 0.68, o: 0.4 };
const BASS_STROKE: Readonly<Record<string, number>> = { R: 0.75, r: 0.6, '5': 0.7, '8': 0.7, '3': 0.7 };
const CHORD_SHARE = 0.75;
/** Notes are let go a little early, so that a repeated note is heard as two. */
const SOUNDING_SHARE = 0.92;
/** E1, the bass guitar's lowest string in standard tuning: the bass line stays within two octaves of it. */
const BASS_FLOOR = 28;
/** E3: chords lie E3–D#4, above the guitar's low strings and under the treble of its melodies. */
const CHORD_FLOOR = 52;
/** C4: over a bass guitar's phrase the chords lie an octave or more higher … */
const CHORD_FLOOR_FOR_BASS = 60;
/** … and the root, which the keys carry there, from G2. */
const KEY_ROOT_FLOOR = 43;

/** The bass's note for a sign; null where the chord has lost every tone. */
function bassNote(sign: string, { root, tones }: Chord): number | null {
  const first = tones[0];
  if (first === undefined) return null;
  const low = atOrAbove(tones.includes(root) ? root : first, BASS_FLOOR);
  const has = (above: number) => tones.includes((root + above) % 12);
  if (sign === '8') return low + 12;
  if (sign === '5' && has(7)) return atOrAbove((root + 7) % 12, low);
  if (sign === '3')
    return has(4) ? atOrAbove((root + 4) % 12, low) : has(3) ? atOrAbove((root + 3) % 12, low) : low;
  return low;
}

/** The keys' notes for a stroke; with a bass test's root under them. */
function chordNotes({ root, tones }: Chord, forBass: boolean): readonly number[] {
  if (!forBass) return closeVoicing(tones, CHORD_FLOOR);
  const carried = tones.includes(root) ? root : tones[0];
  return [
    ...(carried === undefined ? [] : [atOrAbove(carried, KEY_ROOT_FLOOR)]),
    ...closeVoicing(tones, CHORD_FLOOR_FOR_BASS),
  ];
}

/**
 * What one stroke of the bass or the chords sounds.
 *
 * @param start of the stroke, ticks from the phrase's first bar line.
 * @param at turns such ticks into seconds of the sheet.
 */
export function pitchedCues(
  part: 'bass' | 'chords',
  hit: Hit,
  start: number,
  test: Pick<PracticeTest, 'instrument'>,
  harmony: readonly Harmony[],
  at: (ticks: number) => number,
): readonly Cue[] {
  const here = harmony.findLast((h) => h.fromTicks <= start)!;
  // A stroke that rings into the next chord is let go where that chord begins.
  const end = Math.min(start + hit.lengthTicks, here.toTicks);
  const cue = (voice: PitchedVoice, note: number, velocity: number): Cue => ({
    type: 'note',
    voice,
    role: 'backing',
    atSec: sec(at(start)),
    durationSec: sec((at(end) - at(start)) * SOUNDING_SHARE),
    midi: midi(note),
    velocity,
  });
  if (part === 'chords')
    return chordNotes(here.chord, test.instrument === 'bass').map((note) =>
      cue('keys', note, STROKE[hit.sign]! * CHORD_SHARE),
    );
  const note = test.instrument === 'bass' ? null : bassNote(hit.sign, here.chord);
  return note === null ? [] : [cue('bass', note, BASS_STROKE[hit.sign]!)];
}
