import { CHORD_BANKS, playChords, RATE } from '../../../audio-fixtures/chords/index.ts';
import type { PlayedStrum } from '../../../audio-fixtures/chords/index.ts';
import { loadBanks } from '../../../audio-fixtures/index.ts';
import { makeRandom, type Random } from '../../../audio-fixtures/random.ts';
import { hearChordTake } from '../../../src/dsp/index.ts';
import { parseChord, chordSymbol } from '../../../src/music/chords/index.ts';
import { barTicks } from '../../../src/music/metre.ts';
import { phraseSec } from '../../../src/music/time.ts';
import { bpm, ticksToSec } from '../../../src/music/units.ts';
import {
  CHORD_SHAPES,
  chartOf,
  handlerOf,
  makeImprovising,
  soundingOf,
  strokeFacts,
  takenChords,
  takeOf,
} from '../../../src/tests-engine/index.ts';
import type { nodeRenderer } from '../../support/node-renderer.ts';
import { head, line, share } from '../chords/report.ts';
import { inRoom } from '../../../audio-fixtures/bleed/inRoom.ts';

/** Improvised chords: strokes planted over bass and drums, and what is told of them. */

/** Charts up to 730 023 were looked at when lines were drawn. */
const FIRST_SEED = 740_000;
/** Backing over guitar, dB; null: headphones. */
const LEVELS = [null, -10, 0] as const;
const FASTEST = 110;
const UNEVEN_MS = 10;
const DAMPED_SEC = 0.05;
/** Quarters of a bar at which strokes fall. */
const RHYTHMS = [[0], [0, 2], [0, 1.5, 3], [0, 1, 2, 3]] as const;

interface Planted {
  readonly strum: PlayedStrum;
  readonly bar: number;
  readonly right: boolean;
}

function shapeFor(symbol: string, random: Random): number[] | null {
  const wanted = parseChord(symbol);
  if (!wanted) return null;
  const same = CHORD_SHAPES.filter(({ chord }) => chordSymbol(chord) === chordSymbol(wanted));
  return same.length > 0 ? soundingOf(random.pick(same)) : null;
}

/** One pass of strokes: one bar a semitone off, another silent. */
function plant(task: ReturnType<typeof makeImprovising>, random: Random): Planted[] | null {
  const chart = chartOf(task);
  const bar = barTicks(chart.metre);
  const rhythm = random.pick(RHYTHMS);
  const wrong = random.whole(0, chart.bars - 1);
  // A stop is one inside the playing.
  const inside = Array.from({ length: chart.bars - 2 }, (_, i) => i + 1).filter((k) => k !== wrong);
  const silent = random.pick(inside);
  const beats = barTicks(chart.metre) / 480;
  const at: { ticks: number; bar: number }[] = [];
  for (let k = 0; k < chart.bars; k++)
    if (k !== silent)
      for (const beat of rhythm) if (beat < beats) at.push({ ticks: k * bar + beat * 480, bar: k });
  const out: Planted[] = [];
  for (const [i, { ticks, bar: k }] of at.entries()) {
    const { symbol } = chart.chords.findLast(({ startTicks }) => startTicks <= ticks)!;
    const notes = shapeFor(symbol, random);
    if (!notes) return null;
    const sec = (t: number): number => ticksToSec(t, task.tempoBpm);
    // Before the silent bar the hand comes down at the bar line.
    const next = at[i + 1]?.ticks ?? chart.bars * bar;
    const until = k + 1 === silent ? Math.min(next, silent * bar) : next;
    out.push({
      bar: k,
      right: k !== wrong,
      strum: {
        notes: k === wrong ? notes.map((midi) => midi + 1) : notes,
        atSec: sec(ticks) + (UNEVEN_MS / 1000) * random.normal(),
        untilSec: sec(until) - DAMPED_SEC,
      },
    });
  }
  return out;
}

/** @param takes at each level of the backing */
export async function strokesTable(
  renderer: ReturnType<typeof nodeRenderer>,
  takes: number,
): Promise<string[]> {
  const banks = (await loadBanks()).all.filter(
    ({ name, instrument }) =>
      instrument === 'guitar' && (CHORD_BANKS.report as readonly string[]).includes(name),
  );
  const out = [
    `### Strokes of chords over bass and drums (${takes} charts, one bar a semitone off, one silent)`,
    '',
    ...head([
      'backing over guitar',
      'strokes',
      'told',
      'takes with their very number',
      'right: no',
      'right: yes',
      'a semitone off: no',
      'a semitone off: yes',
      'silent bar named',
      'not told',
    ]),
  ];
  for (const bleedDb of LEVELS) {
    let [strokes, told, exact, refused, silentNamed, charts] = [0, 0, 0, 0, 0, 0];
    const of = { right: { n: 0, yes: 0, no: 0 }, wrong: { n: 0, yes: 0, no: 0 } };
    for (let k = 0; charts < takes && k < 20 * takes; k++) {
      const seed = FIRST_SEED + k;
      const random = makeRandom(seed);
      const drawn = makeImprovising({ level: 1 + (k % 10), seed, instrument: 'guitar', plays: 'chords' });
      const task = { ...drawn, tempoBpm: bpm(Math.min(drawn.tempoBpm, FASTEST)), swing: 0.5 };
      const planted = plant(task, random);
      if (!planted) continue;
      charts++;
      const sheet = handlerOf(task).sheet(task, 'performance', { count: 'click' });
      const [sent] = await renderer.render([sheet], { sampleRate: RATE });
      const starts = sheet.marks.filter(({ label }) => label === 'takeStart').map(({ atSec }) => atSec);
      const durationSec = sent!.samples.length / RATE;
      const pcm = playChords(
        banks[k % banks.length]!,
        starts.flatMap((start) =>
          planted.map(({ strum }) => ({
            ...strum,
            atSec: start + strum.atSec,
            untilSec: start + strum.untilSec,
          })),
        ),
        { durationSec, seed },
      );
      const [from, to] = [starts[1]!, starts[1]! + phraseSec(task)];
      const recording =
        bleedDb === null ? pcm : inRoom(pcm, sent!.samples, { sampleRate: RATE, bleedDb, from, to, random });
      const { asked, free = false } = handlerOf(task).chords!(task)!;
      const heard = hearChordTake(recording, RATE, {
        asked: asked.map((span) => ({ ...span, fromSec: from + span.fromSec, toSec: from + span.toSec })),
        expectedSec: [],
        free,
        fromSec: from - 30 / task.tempoBpm,
        reference: bleedDb === null ? null : sent!.samples,
        lowest: Math.min(...task.tuning),
      });
      strokes += planted.length;
      if (heard.heard.verdict === 'refused') {
        refused++;
        continue;
      }
      const take = takeOf(
        takenChords(heard),
        { beatOneSec: from, latencySec: (heard.heard.delayMs ?? 0) / 1000 },
        handlerOf(task).span(task),
      );
      const chart = chartOf(task);
      const facts = strokeFacts({ chart, strums: take.strums ?? [] });
      told += facts.verdicts.length;
      if (facts.verdicts.length === planted.length) exact++;
      const silent = Array.from({ length: chart.bars }, (_, i) => i).find(
        (i) => !planted.some(({ bar }) => bar === i),
      )!;
      if (facts.phrases.stops.some(({ place }) => place.bar === silent + 1)) silentNamed++;
      const wrongBar = planted.find(({ right }) => !right)!.bar;
      for (const { place, verdict } of facts.verdicts) {
        const side = place.bar - 1 === wrongBar ? of.wrong : of.right;
        side.n++;
        if (verdict === 'yes') side.yes++;
        if (verdict === 'no') side.no++;
      }
    }
    out.push(
      line([
        bleedDb === null ? 'headphones' : `${bleedDb} dB`,
        strokes,
        told,
        `${exact} of ${charts}`,
        share(of.right.no, of.right.n),
        share(of.right.yes, of.right.n),
        share(of.wrong.no, of.wrong.n),
        share(of.wrong.yes, of.wrong.n),
        `${silentNamed} of ${charts}`,
        refused,
      ]),
    );
  }
  return out;
}
