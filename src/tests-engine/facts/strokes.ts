import type { Chart } from '../../music/chart.ts';
import type { ChordVerdict, TakenStrum } from '../../music/chords/index.ts';
import { barTicks } from '../../music/metre.ts';
import type { HeardNote } from '../../music/notes.ts';
import { cents, db, midi, sec, ticksToSec } from '../../music/units.ts';
import type { Fact } from '../marks/index.ts';
import { askedOf } from '../material/chords/index.ts';
import { phraseFacts, type PhraseFacts } from './phrases.ts';
import { beatTicks, placed, placeOf } from './place.ts';
import { rhythmFacts, type RhythmFacts } from './rhythm.ts';
import { timingFacts, type TimingFacts } from './timing.ts';
import { fact, rhythmList, whole } from './told.ts';
import type { Place } from './types.ts';

/** A pass of chords over a chart: its strokes with what each is as the chords that it may answer, times from the first bar line. */
export interface PlayedChords {
  readonly chart: Chart;
  readonly strums: readonly TakenStrum[];
}

/** A stroke at the place that it was meant for, ticks from the first bar line, and where it stops sounding. */
export interface PlacedStroke {
  readonly place: Place;
  readonly ticks: number;
  readonly endTicks: number;
  readonly verdict: ChordVerdict;
}

export interface StrokeFacts {
  readonly phrases: PhraseFacts;
  readonly rhythm: RhythmFacts;
  readonly timing: TimingFacts;
  /** Of each stroke, in order: does it hold the chord that stands there, or the one to come for a stroke up to half a beat before it? */
  readonly verdicts: readonly PlacedStroke[];
  /** Chords of the chart that were held by a stroke of theirs, of those that any stroke answered. */
  readonly held: number;
  readonly met: number;
}

/** A stroke may come so much before its chord: half a beat, as a note that anticipates. */
const earlySec = (chart: Chart): number => ticksToSec(beatTicks(chart) / 2, chart.tempoBpm);

/** What the ear for chords is asked at each chord of the chart: its name in any voicing, from half a beat before it on. */
export function askedOver(chart: Chart, tuning: readonly number[]) {
  const early = earlySec(chart);
  return chart.chords.map(({ symbol, startTicks, durationTicks }) => ({
    chord: askedOf({ symbol, frets: null, startTicks: null }, tuning),
    fromSec: ticksToSec(startTicks, chart.tempoBpm) - early,
    toSec: ticksToSec(startTicks + durationTicks, chart.tempoBpm),
  }));
}

const MILDER: Readonly<Record<ChordVerdict, number>> = { yes: 0, 'cannot-tell': 1, no: 2 };

/** What happened in one pass of chords; definitions as for a line, strokes in the place of notes. */
export function strokeFacts({ chart, strums }: PlayedChords): StrokeFacts {
  const end = ticksToSec(barTicks(chart.metre) * chart.bars, chart.tempoBpm);
  // What lies before is of the pass for practice.
  const inside = strums.filter(({ firstSec }) => firstSec >= -earlySec(chart) && firstSec < end);
  // Where nothing is kept of its end, a stroke sounds on until the next.
  const notes = inside.map(({ firstSec, untilSec }, i): HeardNote => ({
    ...{ onsetSec: sec(firstSec), offsetSec: sec(untilSec ?? inside[i + 1]?.firstSec ?? end) },
    ...{ midi: midi(60), cents: cents(0), levelDb: db(0), confidence: 1 },
  }));
  const strokes = placed({ chart, notes });
  const verdicts = strokes.flatMap(({ ticks, endTicks, note }): PlacedStroke[] => {
    const answers = inside.find(({ firstSec }) => sec(firstSec) === note.onsetSec)!.answers;
    const [best] = [...answers].sort((a, b) => MILDER[a.verdict] - MILDER[b.verdict]);
    return best && ticks >= 0
      ? [{ place: placeOf(chart, ticks), ticks, endTicks, verdict: best.verdict }]
      : [];
  });
  const asked = (wanted: (verdict: ChordVerdict) => boolean): number =>
    new Set(
      inside.flatMap(({ answers }) => answers.filter((a) => wanted(a.verdict)).map(({ asked: k }) => k)),
    ).size;
  return {
    phrases: phraseFacts(chart, strokes),
    rhythm: rhythmFacts(chart, strokes),
    timing: timingFacts(chart, strokes),
    verdicts,
    held: asked((verdict) => verdict === 'yes'),
    met: asked(() => true),
  };
}

const count = ({ verdicts }: StrokeFacts, wanted: ChordVerdict): number =>
  verdicts.filter(({ verdict }) => verdict === wanted).length;

/** The facts as plain data, in the order in which they are shown. */
export function strokeList(facts: StrokeFacts): Fact[] {
  const { phrases, verdicts, held, met } = facts;
  if (verdicts.length === 0) return [];
  return [
    fact('strokes', { count: verdicts.length }),
    fact('strokes-held', {
      yes: count(facts, 'yes'),
      no: count(facts, 'no'),
      unsure: count(facts, 'cannot-tell'),
    }),
    fact('chords-held', { count: held, of: met }),
    fact('bars-played', { count: phrases.barsPlayed, of: phrases.bars }),
    ...phrases.stops.map(({ place, beats }) => fact('stop', { ...place, beats: whole(beats) })),
    ...rhythmList(facts),
  ];
}

/** Fewer strokes than this say nothing general, as of notes. */
const FEWEST = 4;

/** At most three sentences: what happened, then one thing to try. Every threshold is ours. */
export function strokeSentences(facts: StrokeFacts): Fact[] {
  const { verdicts, phrases, timing, rhythm } = facts;
  if (verdicts.length === 0) return [fact('nothing-played'), fact('try-more-notes')];
  const [yes, no] = [count(facts, 'yes'), count(facts, 'no')];
  const wrong = verdicts.find(({ verdict }) => verdict === 'no');
  const stop = phrases.stops[0];
  const steady = timing.spreadMs !== null && verdicts.length >= 8 && timing.spreadMs <= 25;
  const told = [
    ...(stop ? [fact('stopped', { ...stop.place, beats: whole(stop.beats) })] : []),
    yes + no > 0 ? fact('strokes-right', { count: yes, of: yes + no }) : fact('strokes-untold'),
    ...(steady ? [fact('in-time', { spread: whole(timing.spreadMs!) })] : []),
    fact('kept-going', { count: phrases.barsPlayed, of: phrases.bars }),
  ].slice(0, 2);
  const next = (): Fact => {
    if (stop) return fact('try-keep-going');
    if (wrong) return fact('try-chord-of-bar', { bar: wrong.place.bar });
    if (yes + no === 0) return fact('try-let-ring');
    if (timing.biasMs !== null && verdicts.length >= FEWEST && Math.abs(timing.biasMs) >= 25)
      return fact(timing.biasMs > 0 ? 'try-less-behind' : 'try-less-ahead', {
        ms: Math.abs(whole(timing.biasMs)),
      });
    if (timing.spreadMs !== null && timing.spreadMs >= 45)
      return fact('try-steadier', { spread: whole(timing.spreadMs) });
    if (rhythm.barsWithNotes >= FEWEST && rhythm.figures === 1) return fact('try-other-rhythm');
    return fact('try-other-place');
  };
  return [...told, next()];
}
