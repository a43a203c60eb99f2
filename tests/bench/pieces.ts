import { makeSpeaker, throughSpeaker } from '../../audio-fixtures/bleed/speaker.ts';
import { roomResponse } from '../../audio-fixtures/bleed/imageSource.ts';
import { loadNpmBank } from '../../audio-fixtures/banks/npm.ts';
import { addHiss } from '../../audio-fixtures/effects/noise.ts';
import { perform } from '../../audio-fixtures/player.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { convolve } from '../../src/dsp/bleed/convolve.ts';
import { hearOverBacking } from '../../src/dsp/index.ts';
import { sec } from '../../src/music/units.ts';
import { markPiece, type MarkedPiece } from '../../src/tests-engine/index.ts';
import { nodeRenderer } from '../support/node-renderer.ts';
import { makePiece, plantSlips, type MadePiece, type PlantedPiece } from '../support/piece.ts';
import { beatsTable } from './pieces/beats.ts';
import { figuresOf } from './figures.ts';
import { fftMicroseconds } from './yardstick.ts';

/**
 * Pieces with planted slips through real sound: recorded notes over the piece's own backing from a simulated loudspeaker in
 * a simulated room, as loud at the microphone as the guitar; bars named, and how long five minutes take. Then tempo and
 * first bar of backings found by listening.
 *
 *   npm run bench:pieces -- [takes, 6] [backings a style, 4] [minutes, 5] [--write]
 */
figuresOf('pieces', 'bench:pieces');
const RATE = 24_000;
const BLEED_DB = 0;
const [takes = 6, backings = 4, minutes = 5] = process.argv.slice(2).map(Number);
const renderer = nodeRenderer();

const rms = (x: ArrayLike<number>): number => {
  let sum = 0;
  for (let n = 0; n < x.length; n++) sum += x[n]! ** 2;
  return Math.sqrt(sum / Math.max(1, x.length));
};

interface Heard {
  readonly marked: MarkedPiece;
  /** Processor time of hearing and marking, of all threads: what else the machine does is not in it. */
  readonly seconds: number;
  /** By the clock. */
  readonly clockSec: number;
  readonly verdict: string;
}

async function hear(piece: MadePiece, planted: Pick<PlantedPiece, 'played'>, seed: number): Promise<Heard> {
  const random = makeRandom(seed);
  // A bar of count and a little of the start come before bar 1, as in the app.
  const lead = 0.25 + 4 * piece.beatSec;
  const lengthSec = lead + piece.barSecs.at(-1)! + 1.5;
  const [sent] = await renderer.render(
    [
      {
        durationSec: sec(lengthSec),
        cues: [...piece.cues(lead)].sort((a, b) => a.atSec - b.atSec),
        marks: [],
      },
    ],
    { sampleRate: RATE },
  );
  const bank = await loadNpmBank(seed % 2 ? 'electric' : 'acoustic');
  const { signal } = perform(
    planted.played.map(({ onsetSec, midi, lengthSec: durationSec }) => ({
      onsetSec: onsetSec + lead,
      durationSec,
      midi,
      levelDb: random.between(-3, 1),
    })),
    bank,
    { sampleRate: RATE, durationSec: lengthSec, random },
  );
  const box = {
    size: [4, 3.2, 2.5],
    source: [0.8, 1, 1],
    microphone: [random.between(1.5, 2), random.between(0.8, 1.6), 0.9],
    rt60: 0.35,
  } as const;
  const bleed = convolve(throughSpeaker(sent!.samples, makeSpeaker(random), RATE), roomResponse(box, RATE));
  const gain = (rms(signal) / rms(bleed)) * 10 ** (BLEED_DB / 20);
  const recording = Float32Array.from(signal, (v, n) => v + gain * (bleed[n] ?? 0));
  addHiss(recording, -64, RATE, random);
  const begun = performance.now();
  const started = process.cpuUsage();
  const heard = hearOverBacking(recording, RATE, {
    instrument: 'guitar',
    reference: sent!.samples,
    fromSec: lead,
  });
  const latency = (heard.heard.delayMs ?? 0) / 1000;
  const marked = markPiece({
    ...piece,
    played: heard.notes.map(({ onsetSec, midi, confidence }) => ({
      onsetSec: onsetSec - lead - latency,
      midi,
      confidence,
    })),
  });
  const { user, system } = process.cpuUsage(started);
  const clockSec = (performance.now() - begun) / 1000;
  return { marked, seconds: (user + system) / 1e6, clockSec, verdict: heard.heard.verdict };
}

console.log(`2048-point complex radix-2 FFT: ${fftMicroseconds().toFixed(0)} µs\n`);
console.log(
  '| take | bars named right | unaccused of those without slip | wrong bars named | jump, stop | mark | CPU s | not so |',
);
console.log('|---|---|---|---|---|---|---|---|');
let [right, all, clean, cleanRight] = [0, 0, 0, 0];
for (let k = 0; k < takes; k++) {
  const seed = 520_000 + k;
  const piece = makePiece(seed, { seconds: 180, level: 3 + (k % 6), tempoBpm: 84 + 8 * (k % 5) });
  const planted = plantSlips(piece, makeRandom(seed));
  const { marked, seconds, verdict } = await hear(piece, planted, seed);
  const not: string[] = [];
  let [r, c, cr] = [0, 0, 0];
  planted.truth.forEach((allowed, bar) => {
    const state = marked.bars[bar]!;
    const good = allowed.includes(state);
    if (good) r++;
    else not.push(`${bar + 1}: ${allowed[0]}→${state}`);
    if (allowed[0] === 'right' && allowed.length === 2) {
      c++;
      if (good) cr++;
    }
  });
  const named = planted.wrongBars.filter((b) => marked.bars[b] === 'wrong').length;
  const jump = marked.events.some(
    (e) => e.kind === 'wentBack' && e.fromBar === planted.back.after && e.bar === planted.back.to,
  );
  const stop = marked.events.some((e) => e.kind === 'stopped' && e.bar === planted.stop.again);
  right += r;
  all += planted.truth.length;
  clean += c;
  cleanRight += cr;
  console.log(
    `| level ${3 + (k % 6)} ${verdict} | ${r}/${planted.truth.length} | ${cr}/${c} | ${named}/4 | ${jump ? 'yes' : 'no'}, ${stop ? 'yes' : 'no'} | ${marked.mark} | ${seconds.toFixed(1)} | ${not.join(', ')} |`,
  );
}
if (takes > 0)
  console.log(
    `\nbars named right ${((100 * right) / all).toFixed(1)} %, unaccused ${((100 * cleanRight) / clean).toFixed(1)} %`,
  );
if (minutes > 0) {
  const piece = makePiece(777, { seconds: 60 * minutes, level: 6 });
  const played = piece.target.map((t) => ({ ...t, lengthSec: 0.3 }));
  const { seconds, clockSec, marked } = await hear(piece, { played }, 777);
  console.log(
    `${minutes} minutes (${piece.target.length} notes) heard and marked in ${clockSec.toFixed(1)} s by the clock, ${seconds.toFixed(1)} s of processor time, mark ${marked.mark}, bars right ${marked.bars.filter((b) => b === 'right').length} of ${marked.bars.length}`,
  );
}
if (backings > 0) console.log(`\n${(await beatsTable(renderer, backings)).join('\n')}`);
