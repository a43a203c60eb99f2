import type { Instrument, Key } from '../../../music/score.ts';
import { spelledScale } from '../../../music/key.ts';
import { fifthsOf } from '../../../music/signature.ts';
import { LIMITS } from '../../../music/schema/index.ts';
import type { ScaleEntry, ScaleKind } from '../../../music/scales.ts';
import type { ScaleTask } from '../../../music/task.ts';
import { bpm, midi } from '../../../music/units.ts';
import { makeRandom } from '../../material/random/random.ts';
import { scaleTarget } from '../../material/scales/index.ts';
import { standardTuning } from '../../material/index.ts';

/** Where the off-beat of a swung pair falls: long to short as two to one. */
const SWUNG = 2 / 3;

export interface ScaleRequest {
  readonly named: ScaleEntry;
  readonly instrument: Instrument;
  /** Sounding MIDI numbers of the open strings, lowest first; the usual tuning when absent. */
  readonly tuning?: readonly number[];
  readonly click?: boolean;
  /** 1…10 where it is of one of our own lists; null or absent: of one's own. */
  readonly level?: number | null;
  /** Unsigned 32-bit: draws the tempo within what is asked. Absent: the middle. */
  readonly seed?: number | null;
}

/** The scale by whose signature a kind is written. */
const WRITTEN_AS: Readonly<Record<ScaleKind, string>> = {
  major: 'major',
  'natural minor': 'minor',
  'harmonic minor': 'harmonic minor',
  'melodic minor': 'melodic minor',
  'major pentatonic': 'major pentatonic',
  'minor pentatonic': 'minor pentatonic',
  blues: 'blues',
  dorian: 'dorian',
  mixolydian: 'mixolydian',
  chromatic: 'major',
  'major arpeggio': 'major',
  'minor arpeggio': 'minor',
  'dominant seventh arpeggio': 'mixolydian',
  'major seventh arpeggio': 'major',
  'minor seventh arpeggio': 'minor',
  'diminished seventh arpeggio': 'minor',
};

/** The key an entry is written in; a key that would need more than seven signs is written without any. */
function keyOf({ tonic, kind }: ScaleEntry): Key {
  const key = { tonic, scale: WRITTEN_AS[kind] };
  try {
    spelledScale(key);
    fifthsOf(key);
    return key;
  } catch (error) {
    if (error instanceof RangeError) return { tonic: 'C', scale: 'major' };
    throw error;
  }
}

function tempoOf([slow, fast]: ScaleEntry['tempo'], seed: number | null): number {
  if (seed === null) return Math.round((slow + fast) / 2);
  const [low, high] = [Math.ceil(slow), Math.floor(fast)];
  return high <= low ? slow : low + makeRandom(seed, 5).below(high - low + 1);
}

/**
 * A named scale as a task.
 * @throws RangeError where the instrument cannot play it from there, or it is longer than sixteen bars
 */
export function makeScale(request: ScaleRequest): ScaleTask {
  const { named, instrument, click = true, level = null, seed = null } = request;
  const tuning = request.tuning ?? standardTuning(instrument).strings;
  const { phrase, fingers } = scaleTarget(named, tuning);
  const [lowest, highest] = instrument === 'bass' ? LIMITS.bassMidi : LIMITS.guitarMidi;
  if (phrase.notes.some((note) => note.midi < lowest || note.midi > highest))
    throw new RangeError(
      `${named.tonic} ${named.kind} goes beyond what is heard on this instrument; choose fewer octaves or a lower string`,
    );
  return {
    version: 1,
    kind: 'scale',
    instrument,
    tuning: tuning.map(midi),
    level,
    seed,
    tempoBpm: bpm(tempoOf(named.tempo, seed)),
    key: keyOf(named),
    swing: named.swung ? SWUNG : 0.5,
    phrase,
    named,
    hands: fingers.map(({ hand }) => hand),
    procedure: { click },
  };
}
