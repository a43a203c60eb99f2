import type { Heard } from '../../music/notes.ts';
import type { HeardChords } from '../../music/chords/heard.ts';
import { sec } from '../../music/units.ts';
import { toWorkRate } from '../hear/toWorkRate.ts';
import { prepare, REFERENCE_RMS } from '../signal/prepared.ts';
import { judge, judgeStream } from '../verdict/judge.ts';
import { checkStream } from '../verdict/stream.ts';
import { answerChords } from './answer.ts';
import type { AskedSpan } from './answer.ts';
import { LEAST_SOUNDING_SEC } from './constants.ts';
import { hearStrums } from './hearStrums.ts';
import { soundsOfStrings } from './judge.ts';
import type { HeardStrum } from './heardStrum.ts';
import type { JudgeOptions } from './judge.ts';
import { hearStrumsOver } from './overBacking.ts';
import type { StrumOptions } from './strums.ts';

export interface ChordTakeOptions extends JudgeOptions, StrumOptions {
  readonly asked: readonly AskedSpan[];
  /** The take starts here in the recording, s. */
  readonly fromSec: number;
  /** What went to the loudspeaker over the recording's span; null: headphones, or silence. */
  readonly reference: Float32Array | null;
  /** Strokes come as the player likes: each counts for itself, and one that may be left of the backing does not. */
  readonly free?: boolean;
}

/**
 * Hears a take of chords: its strums with their verdicts as what was asked, and whether it may be marked at all. Silence, an
 * overdriven input, missing samples, speech and noise are refused with a reason; a take that is refused hands out no strums.
 *
 * @returns times counted from the recording's first sample
 * @throws RangeError for a rate or a `fromSec` out of range
 */
export function hearChordTake(
  recording: Float32Array,
  sampleRate: number,
  options: ChordTakeOptions,
): HeardChords {
  const { asked, fromSec, reference, ...rest } = options;
  const start = Math.max(0, Math.round(fromSec * sampleRate));
  const take = recording.subarray(start);
  const check = checkStream(take, sampleRate);
  const broken = judgeStream(check, take.length);
  if (broken) return refused(broken, null);
  const over = reference ? hearStrumsOver(recording, sampleRate, { ...rest, reference, fromSec }) : null;
  const strums = over ? over.strums : alone(check.clean, sampleRate, start / sampleRate, rest);
  const delayMs = over?.delayMs ?? null;
  const heard = judge({
    check,
    // A few milliseconds hide no strum.
    touched: 0,
    length: take.length,
    loudRms: REFERENCE_RMS / prepare(toWorkRate(check.clean, sampleRate)).gain,
    notes: strums.length,
    instrument: shareOfStrings(strums),
    confidence: 1,
  });
  if (heard.verdict === 'refused') return refused(heard, delayMs);
  // The player heard what was sent out later by the way of the sound, and answers as much later.
  const late = (delayMs ?? 0) / 1000;
  const spans = asked.map((span) => ({ ...span, fromSec: span.fromSec + late, toSec: span.toSec + late }));
  return { strums: answerChords(strums, spans, rest), heard: { ...heard, delayMs } };
}

const refused = (heard: Heard, delayMs: number | null): HeardChords => ({
  strums: [],
  heard: { ...heard, delayMs },
});

function alone(
  clean: Float32Array,
  sampleRate: number,
  startSec: number,
  options: StrumOptions,
): HeardStrum[] {
  const there = { ...options, expectedSec: (options.expectedSec ?? []).map((t) => t - startSec) };
  return hearStrums(clean, sampleRate, there).map((strum) => ({
    ...strum,
    firstSec: sec(strum.firstSec + startSec),
    fullSec: sec(strum.fullSec + startSec),
    untilSec: sec(strum.untilSec + startSec),
  }));
}

/**
 * Share of what sounds long enough to be a chord that strings explain. Of talk some 25 syllables in 7 s rise like a stroke; one to
 * three of them last, and none is explained.
 */
function shareOfStrings(strums: readonly HeardStrum[]): number {
  const long = strums.filter(({ firstSec, untilSec }) => untilSec - firstSec >= LEAST_SOUNDING_SEC);
  if (long.length === 0) return 0;
  return long.filter(soundsOfStrings).length / long.length;
}
