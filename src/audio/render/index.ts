import type { CueSheet } from '../../music/score.ts';
import type { TrackSpan } from '../../music/score.ts';
import { mixTrack, type ReadyTrack } from '../track/mixTrack.ts';
import type { Balance, Rendered } from '../types.ts';
import { loadBank } from './bank.ts';
import type { Bank } from './bank.ts';
import { checkSheet } from './checkSheet.ts';
import { amplify, CEILING_DBTP, commonGainDb, measure } from './level.ts';
import type { Measured } from './level.ts';
import { loadTone } from './loadTone.ts';
import { AS_MIXED, checkBalance, isAsMixed } from './mix.ts';
import { renderDry } from './renderDry.ts';

export { MANIFEST } from './manifest.ts';
export type { SampleEntry, SoundManifest, SoundSource } from './manifest.ts';
export { CEILING_DBTP, TARGET_LUFS } from './level.ts';
export { gatingBlocks, integratedLoudness } from './loudness/loudness.ts';
export { truePeak } from './loudness/truePeak.ts';

/** What a renderer needs from where it runs. */
export interface RenderHost {
  /** Bytes of `assets/NAME.mp3`, NAME being one of `MANIFEST.files`. The buffer is used up. */
  readonly loadAsset: (name: string) => Promise<ArrayBuffer>;
  /** A fresh mono OfflineAudioContext. */
  readonly offlineContext: (lengthSamples: number, sampleRate: number) => OfflineAudioContext;
  /** Outside browsers: the object with Web Audio's constructors (node-web-audio-api's namespace). */
  readonly nativeApi?: object;
  /** A recording that a sheet sounds; needed only by sheets with one. */
  readonly track?: (span: TrackSpan) => Promise<ReadyTrack>;
  /** Loudness and peak of a dry render; pass one to measure elsewhere (a worker). */
  readonly measure?: (samples: Float32Array<ArrayBuffer>, sampleRate: number) => Measured | Promise<Measured>;
}

/** A rendered sheet and the gain it got. */
export interface RenderedSheet extends Rendered {
  readonly gainDb: number;
}

export interface Renderer {
  /** Fetches and decodes the sounds for a sample rate, once. */
  preload(sampleRate: number): Promise<void>;
  /**
   * Renders the sheets of one test (hearing, performance) with one common gain, so that together they have
   * −23 LUFS and the backing is as loud in each; no part passes −3 dBTP. A given `gainDb` is used instead: for
   * a part of a test rendered later or alone. With a `balance` the parts are so much louder or softer than they
   * would be as mixed (all of it softer where a peak would pass −3 dBTP); clicks and words stay.
   *
   * Sample `atSec · sampleRate` of the result is the cue's attack (for words: the first vowel).
   * @throws RangeError for a sheet that cannot be rendered; Error when a sound file cannot be loaded
   */
  render(
    sheets: readonly CueSheet[],
    options: { readonly sampleRate: number; readonly gainDb?: number; readonly balance?: Balance },
  ): Promise<readonly RenderedSheet[]>;
}

export function createRenderer(host: RenderHost): Renderer {
  const banks = new Map<number, Promise<Bank>>();
  function bankAt(sampleRate: number): Promise<Bank> {
    let bank = banks.get(sampleRate);
    if (!bank) {
      bank = loadBank(host.loadAsset, host.offlineContext(1, sampleRate));
      banks.set(sampleRate, bank);
      // A failed fetch may be tried again.
      bank.catch(() => banks.delete(sampleRate));
    }
    return bank;
  }
  const measuring = host.measure ?? measure;

  return {
    async preload(sampleRate) {
      await Promise.all([bankAt(sampleRate), loadTone(host.nativeApi ?? null)]);
    },
    async render(sheets, { sampleRate, gainDb, balance = AS_MIXED }) {
      sheets.forEach(checkSheet);
      checkBalance(balance);
      const [bank, tone] = await Promise.all([bankAt(sampleRate), loadTone(host.nativeApi ?? null)]);
      const dryAt = async (mixed: Balance): Promise<Float32Array<ArrayBuffer>[]> => {
        const all: Float32Array<ArrayBuffer>[] = [];
        for (const sheet of sheets) {
          const context = host.offlineContext(Math.ceil(sheet.durationSec * sampleRate), sampleRate);
          all.push(await renderDry(tone, sheet, bank, context, mixed));
        }
        return all;
      };
      const measured = (all: readonly Float32Array<ArrayBuffer>[]) =>
        Promise.all(all.map((samples) => measuring(samples, sampleRate)));
      const dry = await dryAt(balance);
      let gain = gainDb;
      if (gain === undefined) {
        const parts = await measured(dry);
        // How loud the parts are as mixed decides, else what was turned down would come back with the common gain.
        const wanted = commonGainDb(isAsMixed(balance) ? parts : await measured(await dryAt(AS_MIXED)));
        const peak = Math.max(0, ...parts.map((part) => part.peak));
        gain = peak === 0 ? wanted : Math.min(wanted, CEILING_DBTP - 20 * Math.log10(peak));
      }
      const common = gain;
      const rendered: RenderedSheet[] = [];
      for (const [i, { marks, track }] of sheets.entries()) {
        const samples = dry[i]!;
        amplify(samples, common);
        if (track) {
          if (!host.track) throw new RangeError('a sheet with a recording needs a host that has it');
          mixTrack(samples, track, await host.track(track), sampleRate, balance.backingDb);
        }
        rendered.push({ samples, sampleRate, marks, gainDb: common });
      }
      return rendered;
    },
  };
}
