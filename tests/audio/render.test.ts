import { describe, expect, it } from 'vitest';
import { attackSec } from '../../src/audio/render/attack.ts';
import { MANIFEST } from '../../src/audio/render/index.ts';
import type { Cue, DrumPiece } from '../../src/music/score.ts';
import { nodeRenderer } from '../support/node-renderer.ts';
import { backingBars, drum, note, sheet } from '../support/sheets.ts';

const renderer = nodeRenderer();
const SOUNDED_AT = 0.5;

/** The attack of a single cue, rendered alone, less the time it was asked for, ms. */
async function attackErrorMs(cue: Cue, sampleRate: number): Promise<number> {
  const [rendered] = await renderer.render([sheet(1.2, [cue])], { sampleRate });
  return (attackSec(rendered!.samples, sampleRate)! - cue.atSec) * 1000;
}

describe('a rendered sheet', () => {
  const pitched = (['guitar', 'bassGuitar', 'bass', 'keys', 'rhythmGuitar'] as const).flatMap((voice) =>
    // A recorded note, and its neighbours that are that recording at another speed.
    [-1, 0, 1].map((shift) => {
      const recorded = MANIFEST.samples.filter(({ id }) => id.startsWith(`${voice}.`));
      return note(SOUNDED_AT, recorded[2]!.midi! + shift, 0.4, voice);
    }),
  );
  it.each(pitched)('has the attack of $voice $midi within 1 ms of its cue', async (cue) => {
    expect(Math.abs(await attackErrorMs(cue, 48_000))).toBeLessThan(1);
  });

  const pieces = MANIFEST.samples.filter(({ file }) => file === 'drums').map(({ id }) => id as DrumPiece);
  it.each(pieces)('has the stroke of %s within 1 ms of its cue, at a time between samples', async (piece) => {
    expect(Math.abs(await attackErrorMs(drum(SOUNDED_AT + 1 / 7919, piece), 44_100))).toBeLessThan(1);
  });

  it('starts a cue at time 0 with its attack at time 0, though the recording has a lead', async () => {
    const [rendered] = await renderer.render([sheet(1, [note(0, 52, 0.5)])], { sampleRate: 48_000 });
    const early = rendered!.samples.subarray(0, 480);
    expect(Math.max(...early.map(Math.abs))).toBeGreaterThan(0.02);
  });

  it('damps a note when its duration ends', async () => {
    const [rendered] = await renderer.render([sheet(1.5, [note(0.1, 52, 0.5)])], { sampleRate: 48_000 });
    const after = rendered!.samples.subarray(Math.ceil(0.65 * 48_000));
    expect(Math.max(...after.map(Math.abs))).toBeLessThan(1e-6);
  });

  it('sounds every note at its pitch: A2 is 110 Hz, a fifth up is 1.5 times that', async () => {
    const periods = await Promise.all(
      [45, 52].map(async (pitch) => {
        const [rendered] = await renderer.render([sheet(1.2, [note(0.1, pitch, 1)])], { sampleRate: 48_000 });
        return periodSamples(rendered!.samples.subarray(14_400, 24_000), 120, 520);
      }),
    );
    // 5 cents: a plucked string starts sharp and its recording was tuned over another stretch of it.
    expect(Math.abs(Math.log2(48_000 / periods[0]! / 110)) * 1200).toBeLessThan(5);
    expect(Math.abs(Math.log2(48_000 / periods[1]! / 164.8138)) * 1200).toBeLessThan(5);
  });

  it('has as many samples as its duration and passes the marks through', async () => {
    const marks = [{ label: 'takeStart', index: 0, atSec: 0.25 }] as any;
    const [rendered] = await renderer.render([sheet(0.75, [drum(0.1, 'click')], marks)], {
      sampleRate: 44_100,
    });
    expect(rendered!.samples.length).toBe(Math.ceil(0.75 * 44_100));
    expect(rendered!.marks).toBe(marks);
  });

  it('is the same samples twice, also when renders run at once', async () => {
    const one = sheet(3, backingBars(0.1, 0.4, 33, 1));
    const other = sheet(2, [note(0.2, 60, 1)]);
    const [a, , b] = await Promise.all([
      renderer.render([one], { sampleRate: 44_100 }),
      renderer.render([other], { sampleRate: 44_100 }),
      renderer.render([one], { sampleRate: 44_100 }),
    ]);
    expect(Buffer.compare(Buffer.from(b[0]!.samples.buffer), Buffer.from(a[0]!.samples.buffer))).toBe(0);
  });

  it.each([
    [sheet(1, [note(0.1, 120, 0.5)]), /MIDI 120 is out of the guitar's range/],
    [{ ...sheet(1, []), durationSec: Number.NaN as any }, /a sheet lasts 0 to 600 s, got NaN/],
    [sheet(1, [drum(2, 'kick')]), /within the sheet, 0 to 1 s, got 2/],
    [sheet(1, [drum(0.5, 'kick', 3)]), /velocity is 0 to 1, got 3/],
    [sheet(1, [{ ...drum(0.5, 'kick'), piece: 'gong' as any } as Cue]), /no sound for drum "gong"/],
  ])('is refused with a RangeError when it cannot be rendered (%#)', async (bad, message) => {
    const failing = renderer.render([bad], { sampleRate: 44_100 });
    await expect(failing).rejects.toThrow(RangeError);
    await expect(failing).rejects.toThrow(message);
  });

  it('renders again after a refusal, as if nothing had happened', async () => {
    const good = sheet(1, [note(0.1, 52, 0.5)]);
    const [before] = await renderer.render([good], { sampleRate: 44_100 });
    await expect(
      renderer.render([sheet(1, [note(0.1, 120, 0.5)])], { sampleRate: 44_100 }),
    ).rejects.toThrow();
    const [after] = await renderer.render([good], { sampleRate: 44_100 });
    expect(after!.samples.every((x, i) => x === before!.samples[i])).toBe(true);
  });
});

/** Period of a steady tone by autocorrelation, with a parabola through the largest value. */
function periodSamples(tone: Float32Array, shortest: number, longest: number): number {
  const score = (lag: number): number => {
    let sum = 0;
    for (let i = 0; i + longest + 1 < tone.length; i++) sum += tone[i]! * tone[i + lag]!;
    return sum;
  };
  let best = shortest;
  for (let lag = shortest; lag <= longest; lag++) if (score(lag) > score(best)) best = lag;
  const [l, m, r] = [score(best - 1), score(best), score(best + 1)];
  return best + (l - r) / (2 * (l - 2 * m + r));
}
