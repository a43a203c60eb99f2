import { loadBanks } from '../../../audio-fixtures/index.ts';
import { makeScene } from '../../../audio-fixtures/bleed/scene.ts';
import type { Sent } from '../../../audio-fixtures/bleed/scene.ts';
import { CHORD_BANKS, makeStrum, RIGHT } from '../../../audio-fixtures/chords/index.ts';
import type { Fault, MadeStrum } from '../../../audio-fixtures/chords/index.ts';
import { makeRandom } from '../../../audio-fixtures/random.ts';
import { rms } from '../../../audio-fixtures/voice.ts';
import { hearStrumsOver, judgeStrum } from '../../../src/dsp/chords/index.ts';
import type { JudgedChord } from '../../../src/music/chords/index.ts';
import { soundTest } from '../bleed/sent.ts';

/** A strum played over a backing from a loudspeaker, in a simulated room. */
export interface BackingRow {
  readonly bleedDb: number | null;
  readonly fault: Fault;
  readonly right: boolean;
  readonly judged: JudgedChord | null;
  readonly errorMs: number | null;
}

const RATE = 44_100;
/** Over the take one strum every so many seconds. */
const EVERY_SEC = 2.1;
const FAULTS: readonly Fault[] = [
  'right',
  'right',
  'right',
  'third to fourth',
  'major for minor',
  'no third',
  'muted',
  'fret off',
  'wrong chord',
  'foreign open string',
  'wrong bass',
];
const KINDS = ['open', 'barre', 'seventh', 'triad', 'slash', 'power'] as const;
/** A guitar's loud part in these scenes. */
const GUITAR_DB = -24;

/** Strums of scene `number` at one level of the backing against the guitar; null: headphones. */
export async function backingRows(
  number: number,
  bleedDb: number | null,
  rt60: number,
): Promise<BackingRow[]> {
  const banks = (await loadBanks()).all.filter(
    ({ name, instrument }) =>
      instrument === 'guitar' && (CHORD_BANKS.report as readonly string[]).includes(name),
  );
  const bank = banks[number % banks.length]!;
  const sent: Sent = await soundTest({
    seed: number,
    sampleRate: RATE,
    kind: 'melody',
    instrument: 'guitar',
  });
  const scene = makeScene(sent, bank, 70_000 + number, { bleedDb, rt60, silent: true });
  const random = makeRandom(number);
  const recording = scene.recording.slice();
  const placed: { made: MadeStrum; atSec: number }[] = [];
  for (let at = scene.fromSec + 0.4; at + EVERY_SEC < recording.length / RATE; at += EVERY_SEC) {
    const fault = random.pick(FAULTS);
    const made = makeStrum({
      kind: random.pick(KINDS),
      fault,
      effect: 'clean',
      bank,
      seed: number * 100 + placed.length,
    });
    if (!made) continue;
    const level = rms(
      made.signal,
      Math.round((made.firstSec + 0.05) * RATE),
      Math.round((made.firstSec + 0.8) * RATE),
    );
    const gain = 10 ** (GUITAR_DB / 20) / Math.max(1e-6, level);
    const to = Math.min(made.signal.length, Math.round((made.untilSec + 0.15) * RATE));
    const shift = Math.round(at * RATE) - Math.round(made.firstSec * RATE);
    // From its start on, a chord before it included: a cut through that one would be an attack of its own.
    for (let i = 0; i < to && i + shift < recording.length; i++)
      recording[i + shift]! += gain * made.signal[i]!;
    placed.push({ made, atSec: at });
  }
  const { strums } = hearStrumsOver(recording, RATE, {
    reference: scene.reference,
    fromSec: scene.fromSec,
    expectedSec: placed.map(({ atSec }) => atSec),
    withinSec: 0.15,
  });
  return placed.map(({ made, atSec }) => {
    const near = strums.filter((s) => Math.abs(s.firstSec - atSec) < 0.08);
    near.sort((a, b) => Math.abs(a.firstSec - atSec) - Math.abs(b.firstSec - atSec));
    const strum = near[0];
    return {
      bleedDb,
      fault: made.order.fault,
      right: RIGHT.includes(made.order.fault),
      judged: strum ? judgeStrum(strum, { shapes: [made.asked] }, { driven: false }) : null,
      errorMs: strum ? 1000 * (strum.firstSec - atSec) : null,
    };
  });
}
