import { loadBanks } from '../../../audio-fixtures/index.ts';
import { makeScene } from '../../../audio-fixtures/bleed/scene.ts';
import type { Sent } from '../../../audio-fixtures/bleed/scene.ts';
import { CHORD_BANKS, makeStrum, RIGHT } from '../../../audio-fixtures/chords/index.ts';
import type { Fault, MadeStrum } from '../../../audio-fixtures/chords/index.ts';
import { makeRandom } from '../../../audio-fixtures/random.ts';
import { rms } from '../../../audio-fixtures/voice.ts';
import { hearStrumsOver, judgeStrum } from '../../../src/dsp/chords/index.ts';
import { parseChord } from '../../../src/music/chords/index.ts';
import type { ChordTest, JudgedChord } from '../../../src/music/chords/index.ts';
import { barTicks } from '../../../src/music/metre.ts';
import { bpm, ticks } from '../../../src/music/units.ts';
import {
  chordsAtSec,
  handlerOf,
  makeChords,
  STYLE_NAMES,
  type Style,
} from '../../../src/tests-engine/index.ts';
import { nodeRenderer } from '../../support/node-renderer.ts';

/** A strum played over the band of its own progression, which a loudspeaker plays in a simulated room. */
export interface BackingRow {
  readonly bleedDb: number | null;
  readonly fault: Fault;
  readonly right: boolean;
  readonly judged: JudgedChord | null;
  /** The same with each of {@link MARGINS} in place of the one that ships, where those were asked for. */
  readonly byMargin: readonly JudgedChord[];
  readonly errorMs: number | null;
  /** Scene and second, for looking at it again. */
  readonly at: string;
}

const RATE = 44_100;
/** A bar of three seconds: room for a strum with what rings before it. */
const TEMPO = 80;
const BARS = 14;
const RIGHT_SHARE = 0.5;
const FAULTS: readonly Fault[] = [
  'third to fourth',
  'major for minor',
  'no third',
  'muted',
  'fret off',
  'wrong chord',
  'single note',
  'foreign open string',
  'wrong bass',
  'silent bass',
];
const KINDS = ['open', 'barre', 'seventh', 'slash', 'power'] as const;
/** A guitar's loud part in these scenes, and how evenly strokes fall on the beat, s. */
const GUITAR_DB = -24;
const UNEVEN_SEC = 0.015;
/** How long the rooms ring, s: furnished, bare, and a tiled one. */
const ROOMS = [0.3, 0.4, 0.6] as const;
/** How much surer what sounds beside the chord might have to be, log-odds. */
export const MARGINS = [0, 0.5, 1, 1.5, 2, 3, 4] as const;
/** Bleed over guitar, dB; null: headphones. */
export const LEVELS = [null, -10, 0] as const;

const renderer = nodeRenderer();

/** The band under these chords, a bar each, as the app sounds it. */
async function bandOf(symbols: readonly string[], seed: number): Promise<{ sent: Sent; test: ChordTest }> {
  const base = makeChords({
    ...{ seed, families: ['open'], how: 'progression', count: symbols.length, voicing: 'any' },
    style: STYLE_NAMES[seed % STYLE_NAMES.length] as Style,
  } as const);
  const test: ChordTest = {
    ...base,
    tempoBpm: bpm(TEMPO),
    bars: symbols.length,
    chords: symbols.map((symbol, i) => ({
      symbol,
      frets: null,
      startTicks: ticks(i * barTicks(base.metre)),
    })),
  };
  const sheet = handlerOf(test).sheet(test, 'performance', {});
  const [sound] = await renderer.render([sheet], { sampleRate: RATE });
  return {
    test,
    sent: {
      signal: sound!.samples,
      sampleRate: RATE,
      takeSec: sound!.marks.find(({ label }) => label === 'takeStart')!.atSec,
      hearingSec: [0, 0],
      target: chordsAtSec(test).map((onsetSec) => ({ onsetSec, durationSec: 1, midi: 60 })),
    },
  };
}

/** Strums of scene `number`, at each level of the backing against the guitar. @param which `fit`: on instruments of the fit, with every margin */
export async function backingRows(number: number, which: 'fit' | 'report'): Promise<BackingRow[]> {
  const banks = (await loadBanks()).all.filter(
    ({ name, instrument }) =>
      instrument === 'guitar' && (CHORD_BANKS[which] as readonly string[]).includes(name),
  );
  const bank = banks[number % banks.length]!;
  const random = makeRandom(500 + number);
  const strums: MadeStrum[] = [];
  for (let n = 0; strums.length < BARS; n++) {
    const made = makeStrum({
      kind: random.pick(KINDS),
      fault: random.chance(RIGHT_SHARE) ? random.pick(RIGHT) : random.pick(FAULTS),
      effect: random.chance(0.5) ? 'room' : 'clean',
      bank,
      seed: 40_000 + number * 100 + n,
    });
    if (made && parseChord(made.chord.name)) strums.push(made);
  }
  const { sent, test } = await bandOf(
    strums.map(({ chord }) => chord.name),
    number,
  );
  const due = chordsAtSec(test);
  const uneven = strums.map(() => UNEVEN_SEC * random.normal());
  return LEVELS.flatMap((bleedDb) => {
    const rt60 = ROOMS[number % ROOMS.length]!;
    const scene = makeScene(sent, bank, 70_000 + number, { bleedDb, rt60, silent: true });
    const recording = scene.recording.slice();
    // The player follows what comes out of the loudspeaker.
    const at = strums.map((_, i) => scene.fromSec + scene.delaySec + due[i]! + uneven[i]!);
    strums.forEach((made, i) => place(recording, made, at[i]!));
    const heard = hearStrumsOver(recording, RATE, {
      reference: scene.reference,
      fromSec: scene.fromSec,
      expectedSec: due.map((sec) => scene.fromSec + sec),
    }).strums;
    return strums.map((made, i): BackingRow => {
      const off = (s: { readonly firstSec: number }): number => Math.abs(s.firstSec - at[i]!);
      const strum = heard.filter((s) => off(s) < 0.08).sort((a, b) => off(a) - off(b))[0];
      const lowest = Math.min(...made.chord.tuning);
      const judge = (more: { readonly surerOverBacking?: number }): JudgedChord[] =>
        strum ? [judgeStrum(strum, { shapes: [made.asked] }, { lowest, driven: false, ...more })] : [];
      return {
        bleedDb,
        fault: made.order.fault,
        right: RIGHT.includes(made.order.fault),
        judged: judge({})[0] ?? null,
        byMargin: which === 'fit' ? MARGINS.flatMap((surerOverBacking) => judge({ surerOverBacking })) : [],
        errorMs: strum ? 1000 * (strum.firstSec - at[i]!) : null,
        at: `scene ${number}, ${at[i]!.toFixed(2)} s, ${bank.name}, ${made.chord.name} ${made.asked.join()}`,
      };
    });
  });
}

/** Lays a strum into the recording with its first string at `atSec`, a chord before it included. */
function place(recording: Float32Array, made: MadeStrum, atSec: number): void {
  const { signal, firstSec, untilSec } = made;
  const level = rms(signal, Math.round((firstSec + 0.05) * RATE), Math.round((firstSec + 0.8) * RATE));
  const gain = 10 ** (GUITAR_DB / 20) / Math.max(1e-6, level);
  const to = Math.min(signal.length, Math.round((untilSec + 0.15) * RATE));
  const shift = Math.round((atSec - firstSec) * RATE);
  for (let i = Math.max(0, -shift); i < to && i + shift < recording.length; i++)
    recording[i + shift] = recording[i + shift]! + gain * signal[i]!;
}
