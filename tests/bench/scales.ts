import { loadBanks, playPlan } from '../../audio-fixtures/index.ts';
import { bpm } from '../../src/music/units.ts';
import {
  earSpreadMs,
  findTake,
  levelList,
  scaleFacts,
  scaleTarget,
  standardTuning,
  targetOf,
  type PlayedNote,
  type ScaleEntry,
  type ScaleFacts,
  type ScaleTarget,
} from '../../src/tests-engine/index.ts';
import { addTallies, f1, tally, type Tally } from '../support/fixtures/note-metrics.ts';
import { figuresOf } from './figures.ts';
import { heardCache } from './heardCache.ts';
import { playScale, SWING } from './scales/players.ts';
import { fftMicroseconds } from './yardstick.ts';

/**
 * Scales of real recorded notes, played by simulated hands: notes heard, waits placed, spread told.
 *
 *   npm run bench:scales -- [--dry] [--takes 400] [--first 660000] [--onsets]
 *
 * `--dry`: the notes that were played instead of those that were heard; `--first`: the first seed, another than the usual
 * one for whatever is tuned; `--onsets`: how the ear places onsets, by pitch.
 */
figuresOf('scales', 'bench:scales');
const FIRST_SEED = Number(process.argv[process.argv.indexOf('--first') + 1]) || 660_000;
const takes = Number(process.argv[process.argv.indexOf('--takes') + 1]) || 400;
const dry = process.argv.includes('--dry');

function factsOf(
  entry: ScaleEntry,
  target: ScaleTarget,
  tempo: number,
  played: readonly PlayedNote[],
  spreadMs: (midi: number) => number,
) {
  const pace = { tempoBpm: bpm(tempo), swing: entry.swung ? SWING : 0.5 };
  const written = targetOf(target.phrase, pace);
  const found = findTake({
    target: written,
    played,
    clock: 'free',
    transposition: 'none',
    beatSec: 60 / tempo,
    beatsPerBar: 4,
  });
  const facts = scaleFacts({
    target: written,
    fingers: target.fingers,
    played,
    mark: found.mark,
    tempoBpm: tempo,
    asked: entry.tempo,
    swung: entry.swung,
    earSpreadMs: spreadMs,
  });
  return { mark: found.mark, facts };
}

/** One onset as the ear placed it, ms against its take's middle. */
interface Placed {
  readonly instrument: string;
  readonly bank: string;
  readonly midi: number;
  readonly ms: number;
}
function placedBy(
  instrument: string,
  bank: string,
  truth: readonly PlayedNote[],
  heard: readonly PlayedNote[],
): Placed[] {
  const found = truth.flatMap(({ onsetSec, midi }) => {
    const near = heard.filter((h) => h.midi === midi && Math.abs(h.onsetSec - onsetSec) < 0.05);
    return near.length === 1 ? [{ midi: midi!, ms: 1000 * (near[0]!.onsetSec - onsetSec) }] : [];
  });
  const sorted = found.map(({ ms }) => ms).sort((a, b) => a - b);
  const middle = sorted[sorted.length >> 1] ?? 0;
  return found.map(({ midi, ms }) => ({ instrument, bank, midi, ms: ms - middle }));
}

const { all } = await loadBanks('npm');
const hear = heardCache('scales');
console.log(`2048-point FFT ${fftMicroseconds().toFixed(0)} µs`);
const byInstrument = new Map<string, Tally[]>();
let [placed, wanted, elsewhere, falseOnes, even, falseTakes] = [0, 0, 0, 0, 0, 0];
const spreads: number[] = [];
const onsets: Placed[] = [];
const marks: number[] = [];
const tempos: number[] = [];
for (let k = 0; k < takes; k++) {
  const seed = FIRST_SEED + k;
  const bank = all[k % all.length]!;
  const tuning = standardTuning(bank.instrument).strings;
  const entries = levelList(1 + (k % 10), bank.instrument).entries;
  const entry = entries[Math.floor(k / 10) % entries.length]!;
  const target = scaleTarget(entry, tuning);
  // 60 to 160 crotchets a minute, at most 7.5 notes a second: semiquavers to 110, quavers to 160.
  const most = { crotchets: 160, quavers: 160, triplets: 140, semiquavers: 110 }[entry.values];
  const tempo = 60 + ((k * 37) % (most - 59));
  const performance = playScale(entry, target, tempo, k % 2 === 1, seed);
  const truth = performance.notes.map((n) => ({ onsetSec: n.onsetSec, midi: n.midi, levelDb: n.levelDb }));
  const heard: readonly PlayedNote[] = dry
    ? truth
    : hear(JSON.stringify([performance.notes, bank.name, seed]), () =>
        playPlan({ notes: performance.notes, bank, seed, sampleRate: k % 3 ? 44_100 : 48_000 }),
      ).notes;
  const own = factsOf(entry, target, tempo, truth, () => 0).facts;
  const { mark, facts } = factsOf(entry, target, tempo, heard, (midi) =>
    dry ? 0 : earSpreadMs(bank.instrument, midi),
  );
  const notes = (list: readonly PlayedNote[]) =>
    list.map(({ onsetSec, midi }) => ({ onsetSec, midi: midi! }));
  byInstrument.set(bank.instrument, [
    ...(byInstrument.get(bank.instrument) ?? []),
    tally(notes(truth), notes(heard)),
  ]);
  if (process.argv.includes('--onsets')) onsets.push(...placedBy(bank.instrument, bank.name, truth, heard));
  marks.push(mark.mark ?? -1);
  if (facts.spreadMs !== null && own.spreadMs !== null) {
    const off = facts.spreadMs - own.spreadMs;
    spreads.push(Math.abs(off));
    if (process.argv.includes('--spreads'))
      console.log(bank.name, own.spreadMs.toFixed(1), facts.spreadMs.toFixed(1));
  }
  if (facts.tempoBpm !== null) tempos.push(Math.abs(facts.tempoBpm / tempo - 1) * 100);
  count(
    facts,
    performance.late,
    `${entry.tonic} ${entry.kind} ${entry.values} ${tempo} ${bank.name} seed ${seed}`,
  );
}

function count(facts: ScaleFacts, late: { note: number; ms: number } | null, name: string): void {
  if (late) {
    wanted++;
    const right = facts.hesitations.some(({ note }) => note === late.note);
    if (right) placed++;
    const others = facts.hesitations.filter(({ note }) => note !== late.note).length;
    elsewhere += others;
    if (!right || others > 0)
      console.log(
        `  ${name}: late ${late.note} ${late.ms.toFixed(0)} ms, told ${JSON.stringify(facts.hesitations)} spread ${facts.spreadMs?.toFixed(1)}`,
      );
  } else {
    even++;
    falseOnes += facts.hesitations.length;
    if (facts.hesitations.length > 0) {
      falseTakes++;
      console.log(
        `  ${name}: even, told ${JSON.stringify(facts.hesitations)} spread ${facts.spreadMs?.toFixed(1)}`,
      );
    }
  }
}

/** How exactly the ear places onsets, ms. */
function rms(tallies: readonly Tally[]): number {
  const errors = tallies.flatMap(({ errorsSec }) => {
    const middle = errorsSec.reduce((sum, e) => sum + e, 0) / Math.max(1, errorsSec.length);
    return errorsSec.map((e) => (1000 * (e - middle)) ** 2);
  });
  return Math.sqrt(errors.reduce((sum, e) => sum + e, 0) / errors.length);
}

const at = (list: number[], share: number): string =>
  [...list].sort((a, b) => a - b)[Math.floor(share * (list.length - 1))]!.toFixed(2);
for (const [instrument, tallies] of byInstrument) {
  const sum = addTallies(tallies);
  console.log(
    `${instrument}: note F1 ${f1(sum.hits50, sum)!.toFixed(4)}, ±25 ms ${f1(sum.hits25, sum)!.toFixed(4)} (${sum.truth} notes), onsets placed ${rms(tallies).toFixed(1)} ms (r.m.s., each take's own middle taken out)`,
  );
}
console.log(`mark: least ${at(marks, 0)}, 1 % ${at(marks, 0.01)}, median ${at(marks, 0.5)}`);
console.log(
  `waits of 80 ms and more placed at their note: ${placed} of ${wanted} (${((100 * placed) / wanted).toFixed(1)} %); told elsewhere in those takes: ${elsewhere}`,
);
console.log(
  `even takes in which a wait was told: ${falseTakes} of ${even} (${((100 * falseTakes) / even).toFixed(1)} %), ${falseOnes} waits`,
);
console.log(
  `spread heard against spread played: median ${at(spreads, 0.5)}, 95 % ${at(spreads, 0.95)}, 99 % ${at(spreads, 0.99)}, most ${at(spreads, 1)} ms`,
);
console.log(`tempo: median ${at(tempos, 0.5)}, most ${at(tempos, 1)} % off`);
/** A band of pitches: four semitones. */
const BAND = 4;
for (const instrument of new Set(onsets.map((one) => one.instrument)))
  for (let from = 24; from < 90; from += BAND) {
    const here = onsets.filter((o) => o.instrument === instrument && o.midi >= from && o.midi < from + BAND);
    if (here.length < 20) continue;
    const mean = here.reduce((sum, { ms }) => sum + ms, 0) / here.length;
    const sd = Math.sqrt(here.reduce((sum, { ms }) => sum + (ms - mean) ** 2, 0) / here.length);
    console.log(
      `${instrument} ${from}…${from + BAND - 1}: ${here.length} onsets, ${mean.toFixed(1)} ms late, s.d. ${sd.toFixed(1)}`,
    );
  }
