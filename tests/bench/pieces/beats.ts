import { findBeats, onsetStrength } from '../../../src/dsp/index.ts';
import type { Renderer } from '../../../src/audio/render/index.ts';
import { makeRandom } from '../../../audio-fixtures/random.ts';
import { sec } from '../../../src/music/units.ts';
import { makePiece } from '../../support/piece.ts';

/** Tempo right within 4 % (Gouyon et al. 2006, "accuracy 1") and grid within 0.1 %; bar 1 within 70 ms. */
export async function beatsTable(renderer: Renderer, count: number): Promise<string[]> {
  const lines = [
    '| style | tempo ± 4 % | ± 0.1 % | bar 1 ± 70 ms | with one tap | seconds for a minute |',
    '|---|---|---|---|---|---|',
  ];
  const styles = ['rock', 'funk', 'ballad', 'shuffle', 'latin', 'reggae'] as const;
  for (const style of styles) {
    let [tempo, exact, bar, tapped, took] = [0, 0, 0, 0, 0];
    const misses: string[] = [];
    for (let k = 0; k < count; k++) {
      const random = makeRandom(91_000 + k);
      const tempoBpm = random.whole(66, 140);
      const piece = makePiece(9100 + k, { seconds: 60, level: 3 + (k % 6), tempoBpm, style });
      const fromSec = random.between(0.2, 2.5);
      const [track] = await renderer.render(
        [{ durationSec: sec(66), cues: piece.cues(fromSec).filter((c) => c.atSec < 64), marks: [] }],
        { sampleRate: 24_000 },
      );
      const started = performance.now();
      const strength = onsetStrength(track!.samples, 24_000);
      const found = findBeats(strength, { beatsPerBar: 4 });
      took += (performance.now() - started) / 1000;
      const tap = fromSec + 0.03 * random.normal();
      const withTaps = findBeats(strength, {
        beatsPerBar: 4,
        aroundBpm: tempoBpm * (1 + 0.02 * random.normal()),
        nearSec: tap,
      });
      if (found && Math.abs(found.bpm / tempoBpm - 1) < 0.04) tempo++;
      else misses.push(`${tempoBpm}→${found?.bpm.toFixed(1)}`);
      if (found && Math.abs(found.bpm / tempoBpm - 1) < 0.001) exact++;
      if (found && Math.abs(found.barOneSec - fromSec) < 0.07) bar++;
      if (
        withTaps &&
        Math.abs(withTaps.barOneSec - fromSec) < 0.07 &&
        Math.abs(withTaps.bpm / tempoBpm - 1) < 0.001
      )
        tapped++;
      else
        misses.push(
          `tap ${tempoBpm}: ${withTaps?.bpm.toFixed(2)} ${(1000 * ((withTaps?.barOneSec ?? 0) - fromSec)).toFixed(0)} ms`,
        );
    }
    lines.push(
      `| ${style} | ${tempo}/${count} | ${exact}/${count} | ${bar}/${count} | ${tapped}/${count} | ${(took / count).toFixed(2)} | ${misses.join(', ')}`,
    );
  }
  return lines;
}
