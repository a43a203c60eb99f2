import type { MeasureOptions, Sound } from '../../audio/types.ts';
import type { HeardReason } from '../../music/notes.ts';
import { backingSheet, hearingSheet, makeTest } from '../../tests-engine/index.ts';
import type { Settings } from '../settings/types.ts';
import { tuningOf } from '../settings/tuningOf.ts';

/** How well the player is heard over the backing. `none`: the microphone does not hear the loudspeaker at all. */
export interface OverBacking {
  readonly verdict: 'none' | 'ok' | 'caution' | 'refused';
  readonly reason: HeardReason | null;
  /** Round trip that the backing itself told; null where it was not heard. */
  readonly delayMs: number | null;
}

/** Two to learn the room from (4.8 s at 100 bpm; cancelling asks for 4) and two to hear the player over. */
const BARS = 4;
const LEARN_BARS = 2;

/** The four bars, as loud as the backing is in a test. */
export async function overBackingSound(
  sound: Pick<Sound, 'renderTogether'>,
  { instrument, tuningId }: Pick<Settings, 'instrument' | 'tuningId'>,
) {
  const tuning = tuningOf({ instrument, tuningId }).strings;
  const test = makeTest({ kind: 'melody', level: 1, seed: 1, instrument, tuning });
  const longer = { ...test, phrase: { ...test.phrase, bars: BARS, notes: [] } };
  const [, backing] = await sound.renderTogether([hearingSheet(test, { repeat: 1 }), backingSheet(longer)]);
  return backing!;
}

/** Plays the bars while the player plays any notes, takes the backing out and says how well that went. */
export async function hearOver(
  sound: Pick<Sound, 'playAndRecord' | 'listen'>,
  backing: Awaited<ReturnType<typeof overBackingSound>>,
  instrument: Settings['instrument'],
  options: MeasureOptions & { readonly onHeard?: () => void },
): Promise<OverBacking | null> {
  const heard = await sound.playAndRecord(backing, options);
  if (!heard) return null;
  options.onHeard?.();
  const { recording, startFrame } = heard;
  const bar = backing.marks.filter(({ label }) => label === 'bar')[LEARN_BARS]!;
  const take = await sound.listen({
    recording,
    instrument,
    zeroFrame: startFrame + Math.round(bar.atSec * recording.sampleRate),
    reference: { samples: backing.samples, startFrame },
  });
  const { verdict, reason, delayMs = null } = take.heard;
  if (options.signal?.aborted) return null;
  return { verdict: delayMs === null ? 'none' : verdict, reason, delayMs };
}
