import type { CueSheet } from '../../music/score.ts';
import type { Balance } from '../types.ts';
import type { Bank } from './bank.ts';
import type { ToneParts } from './loadTone.ts';
import { DAMP_SEC, strokeOf } from './stroke.ts';
import type { Stroke } from './stroke.ts';

/** Hi-hat strokes: each closes an open one, as the pedal does. */
const HAT = new Set(['hat', 'openHat']);

/**
 * A sheet at the mixer's footing, before loudness: mono samples, floats that may pass ±1.
 *
 * The graph is built in one go without awaiting, so two renders never share Tone's global context.
 */
export async function renderDry(
  tone: ToneParts,
  sheet: CueSheet,
  bank: Bank,
  context: OfflineAudioContext,
  balance?: Balance,
): Promise<Float32Array<ArrayBuffer>> {
  build(tone, strokesOf(sheet, bank, balance), context);
  const rendered = await context.startRendering();
  return new Float32Array(rendered.getChannelData(0));
}

function strokesOf(sheet: CueSheet, bank: Bank, balance?: Balance): Stroke[] {
  const hats = sheet.cues.filter((cue) => cue.type === 'drum' && HAT.has(cue.piece));
  return sheet.cues.map((cue) => {
    const open = cue.type === 'drum' && cue.piece === 'openHat';
    const next = open ? hats.find((hat) => hat.atSec > cue.atSec) : undefined;
    return strokeOf(cue, bank, next?.atSec ?? null, balance);
  });
}

function build(tone: ToneParts, strokes: readonly Stroke[], native: OfflineAudioContext): void {
  const context = new tone.OfflineContext(native);
  // Tone's nodes read defaults from the global context, and would make a real one where there is none.
  tone.setContext(context);
  const master = new tone.Gain({ context, gain: 1 });
  master.connect(native.destination);
  for (const stroke of strokes) {
    const source = new tone.ToneBufferSource({
      context,
      url: stroke.buffer,
      playbackRate: stroke.playbackRate,
      fadeOut: DAMP_SEC,
    });
    source.connect(master);
    const playing = stroke.dampSec === null ? undefined : Math.max(0, stroke.dampSec - stroke.startSec);
    source.start(stroke.startSec, stroke.offsetSec, playing, stroke.gain);
  }
}
