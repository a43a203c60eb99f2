import type { HeardTake } from '../../music/notes.ts';
import { WORK_RATE } from '../signal/prepared.ts';
import { playable } from '../note/range.ts';
import type { Strung } from '../note/range.ts';
import { instrumentProbability } from '../verdict/instrument.ts';
import { judge, judgeStream } from '../verdict/judge.ts';
import { checkStream, touchedNotes } from '../verdict/stream.ts';
import type { Loss } from '../verdict/losses.ts';
import { heardNotes } from './heardNotes.ts';
import type { NamedNote } from './name.ts';
import { hearSegment } from './segment.ts';

export interface HearOptions extends Strung {
  /** Where the recorder has counted samples that never came (zeros stand there), in samples of the take. */
  readonly missing?: readonly Loss[];
}

/** A listener for one take, fed in blocks of any size. */
export interface Listener {
  /** The block is copied. @throws TypeError after `finish` */
  push(block: Float32Array): void;
  /** The whole take, whatever the blocks were; a refused one holds no notes. */
  finish(): HeardTake;
}

/**
 * Takes up to a minute are heard whole; longer ones a minute at a time, so that an hour needs no more memory.
 * Stretches overlap by 4 s, and each speaks for its own middle.
 */
const STRETCH_SEC = 60;
const OVERLAP_SEC = 4;

/** @throws RangeError for a sample rate outside 8000…192000 Hz or a tuning that is none */
export function createListener(options: HearOptions & { readonly sampleRate: number }): Listener {
  const { sampleRate, missing = [] } = options;
  if (!(sampleRate >= 8000 && sampleRate <= 192_000))
    throw new RangeError(`sample rate must be 8000 to 192000 Hz, got ${sampleRate}`);
  const range = playable(options);
  const stretch = Math.round(STRETCH_SEC * sampleRate);
  const overlap = Math.round(OVERLAP_SEC * sampleRate);
  let held = new Float32Array(1 << 16);
  let filled = 0;
  /** Index of held[0] in the take. */
  let start = 0;
  let done = false;
  const notes: NamedNote[] = [];
  const losses: Loss[] = [];
  const sum = { broken: 0, dropped: 0, flat: 0, peak: 0, loudRms: 0, instrument: 0, heard: 0 };

  function hearHeld(last: boolean): void {
    const counted = missing.map(({ at, length }) => ({ at: at - start, length }));
    const check = checkStream(held.subarray(0, filled), sampleRate, counted);
    sum.broken += check.broken;
    sum.dropped += check.dropped;
    sum.peak = Math.max(sum.peak, check.peak);
    sum.flat = Math.max(sum.flat, check.flat);
    const segment = hearSegment(check.clean, sampleRate, range, check.losses);
    sum.loudRms = Math.max(sum.loudRms, segment.loudRms);
    const toWork = WORK_RATE / sampleRate;
    const mine = (at: number): boolean =>
      (start === 0 || at >= overlap / 2) && (last || at < filled - overlap / 2);
    const lost = [...check.losses, ...segment.seams.map((at) => ({ at, length: 0 }))];
    for (const loss of lost) if (mine(loss.at)) losses.push({ ...loss, at: loss.at + start });
    const from = start === 0 ? 0 : (overlap / 2) * toWork;
    const until = last ? Infinity : (filled - overlap / 2) * toWork;
    const own = segment.notes.filter((n) => n.at >= from && n.at < until);
    for (const n of own) notes.push({ ...n, at: n.at + start * toWork, end: n.end + start * toWork });
    if (segment.evidence) {
      sum.instrument += own.length * instrumentProbability(segment.evidence);
      sum.heard += own.length;
    }
  }

  return {
    push(block) {
      if (done) throw new TypeError('the listener has finished; make a new one for the next take');
      for (let at = 0; at < block.length;) {
        if (filled === stretch) {
          hearHeld(false);
          held.copyWithin(0, stretch - overlap, stretch);
          start += stretch - overlap;
          filled = overlap;
        }
        const count = Math.min(block.length - at, stretch - filled);
        if (filled + count > held.length) {
          const larger = new Float32Array(Math.min(stretch, Math.max(2 * held.length, filled + count)));
          larger.set(held.subarray(0, filled));
          held = larger;
        }
        held.set(block.subarray(at, at + count), filled);
        filled += count;
        at += count;
      }
    },
    finish() {
      if (done) throw new TypeError('the listener has finished; make a new one for the next take');
      done = true;
      const length = start + filled;
      hearHeld(true);
      const heard = heardNotes(notes, 1, range);
      const confidence = heard.notes.reduce((s, n) => s + n.confidence, 0) / Math.max(1, heard.notes.length);
      const verdict =
        judgeStream(sum, length) ??
        judge({
          check: sum,
          touched: touchedNotes(heard.notes, losses, sampleRate),
          length,
          notes: heard.notes.length,
          loudRms: sum.loudRms,
          instrument: sum.heard > 0 ? sum.instrument / sum.heard : 0,
          confidence,
        });
      // What a refused take seems to hold is nothing that was played.
      return { ...heard, notes: verdict.verdict === 'refused' ? [] : heard.notes, heard: verdict };
    },
  };
}
