import type { Fact } from '../marks/index.ts';
import type { ImprovisedFacts } from './lineFacts.ts';
import { ratio, type Share } from './types.ts';

/** Codes of the sentences; their texts stand in the catalogue. */
export type ToldCode =
  | 'not-heard'
  | 'chords-kept'
  | 'nothing-played'
  | 'few-notes'
  | 'stopped'
  | 'idea-moved'
  | 'idea-repeated'
  | 'met-by-guides'
  | 'strong-belonged'
  | 'in-time'
  | 'breathed'
  | 'kept-going'
  | 'strokes-right'
  | 'strokes-untold'
  | 'try-more-notes'
  | 'try-keep-going'
  | 'try-play-to-end'
  | 'try-other-than-root'
  | 'try-less-behind'
  | 'try-less-ahead'
  | 'try-steadier'
  | 'try-resolve'
  | 'try-chord-on-strong'
  | 'try-land-third'
  | 'try-rest'
  | 'try-other-rhythm'
  | 'try-idea-again'
  | 'try-wider'
  | 'try-fewer-notes'
  | 'try-chord-of-bar'
  | 'try-let-ring'
  | 'try-other-place';

/** Codes of what was counted. */
export type FactCode =
  | 'notes'
  | 'in-scale'
  | 'in-chord'
  | 'strong-in-chord'
  | 'on-root'
  | 'changes'
  | 'outside-resolved'
  | 'phrases'
  | 'bars-played'
  | 'stop'
  | 'range'
  | 'steps'
  | 'leaps'
  | 'idea'
  | 'figures'
  | 'syncopation'
  | 'timing'
  | 'swing'
  | 'loudness'
  | 'ending'
  | 'strokes'
  | 'strokes-held'
  | 'chords-held';

export const fact = (code: ToldCode | FactCode, values: Fact['values'] = {}): Fact => ({ code, values });
const counted = (code: FactCode, { count, of }: Share): Fact[] =>
  of === 0 ? [] : [fact(code, { count, of })];
export const whole = (value: number): number => Math.round(value);
const tenth = (value: number): number => Math.round(value * 10) / 10;

/** Rhythm and timing as plain data, of notes as of strokes. */
export const rhythmList = ({ rhythm, timing }: Pick<ImprovisedFacts, 'rhythm' | 'timing'>): Fact[] => [
  fact('figures', { count: rhythm.figures, of: rhythm.barsWithNotes, bits: tenth(rhythm.entropyBits) }),
  fact('syncopation', { perBar: tenth(rhythm.syncopationsPerBar) }),
  ...(timing.biasMs === null
    ? []
    : [fact('timing', { bias: whole(timing.biasMs), spread: whole(timing.spreadMs ?? 0) })]),
  ...(timing.swingRatio === null
    ? []
    : [fact('swing', { ratio: tenth(timing.swingRatio), pairs: timing.swingPairs })]),
];

/** The facts as plain data, in the order in which they are shown; what could not be counted is left out. */
export function factList(facts: ImprovisedFacts): Fact[] {
  const { harmony, phrases, line, loudness, ending } = facts;
  const met = (how: string): number => harmony.changes.filter((change) => change.met === how).length;
  const changes = harmony.changes.length;
  return [
    fact('notes', { count: line.notes, perBar: tenth(line.notesPerBar) }),
    ...counted('in-scale', harmony.inScale),
    ...counted('in-chord', harmony.inChord),
    ...counted('strong-in-chord', harmony.strongInChord),
    ...counted('on-root', harmony.onRoot),
    ...(changes === 0
      ? []
      : [
          fact('changes', {
            of: changes,
            guide: met('guide'),
            chord: met('chord'),
            held: met('held'),
            other: met('other'),
            none: met('none'),
          }),
        ]),
    ...counted('outside-resolved', harmony.resolved),
    ...(phrases.phrases.length === 0
      ? []
      : [
          fact('phrases', {
            count: phrases.phrases.length,
            beats: tenth(mean(phrases.phrases.map(({ beats }) => beats))),
            onBeat: phrases.phrases.filter(({ onBeat }) => onBeat).length,
          }),
        ]),
    fact('bars-played', { count: phrases.barsPlayed, of: phrases.bars }),
    ...phrases.stops.map(({ place, beats }) => fact('stop', { ...place, beats: whole(beats) })),
    ...(line.range === null ? [] : [fact('range', { low: line.range[0], high: line.range[1] })]),
    ...counted('steps', line.steps),
    ...counted('leaps', line.leaps),
    ...facts.ideas.map(({ at, againAt, notes, how, steps }) =>
      fact('idea', {
        bar: at.bar,
        beat: at.beat,
        again: againAt.bar,
        againBeat: againAt.beat,
        notes,
        how,
        steps,
      }),
    ),
    ...rhythmList(facts),
    ...(loudness.spanDb === null || loudness.thirdsDb === null
      ? []
      : [
          fact('loudness', {
            span: tenth(loudness.spanDb),
            first: tenth(loudness.thirdsDb[0]),
            second: tenth(loudness.thirdsDb[1]),
            third: tenth(loudness.thirdsDb[2]),
          }),
        ]),
    ...(ending.on === null
      ? []
      : [
          fact('ending', { on: ending.on, onBeat: ending.onBeat ? 1 : 0, bars: tenth(ending.barsBeforeEnd) }),
        ]),
  ];
}

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

/** Notes under which nothing general is said. */
const FEWEST_NOTES = 6;

/** What went well or stood out, most telling first. Every threshold is ours. */
function told(facts: ImprovisedFacts): Fact[] {
  const { harmony, phrases, ideas, timing, line } = facts;
  const landed = harmony.changes.filter(({ met }) => met === 'guide').length;
  const best = [...ideas].sort((a, b) => b.notes - a.notes).find(({ how }) => how !== 'rhythm');
  const strong = ratio(harmony.strongInChord);
  const found: Fact[] = [];
  const stop = phrases.stops[0];
  if (stop) found.push(fact('stopped', { ...stop.place, beats: whole(stop.beats) }));
  if (best)
    found.push(
      fact(best.how === 'moved' ? 'idea-moved' : 'idea-repeated', {
        bar: best.at.bar,
        again: best.againAt.bar,
        steps: best.steps,
      }),
    );
  if (harmony.changes.length >= 3 && landed * 2 >= harmony.changes.length)
    found.push(fact('met-by-guides', { count: landed, of: harmony.changes.length }));
  if (strong !== null && harmony.strongInChord.of >= 4 && strong >= 0.75)
    found.push(fact('strong-belonged', { ...harmony.strongInChord }));
  if (timing.spreadMs !== null && line.notes >= 8 && timing.spreadMs <= 25)
    found.push(fact('in-time', { spread: whole(timing.spreadMs) }));
  if (phrases.phrases.length >= 2 && !stop) found.push(fact('breathed', { count: phrases.phrases.length }));
  found.push(fact('kept-going', { count: phrases.barsPlayed, of: phrases.bars }));
  return found;
}

/** One thing to try next, the first that applies. Every threshold is ours. */
function nextStep(facts: ImprovisedFacts): Fact {
  const { harmony, phrases, ideas, timing, line, rhythm, ending } = facts;
  const missed = harmony.changes.filter(({ met }) => met === 'other').length;
  const tuneful = ideas.some(({ how }) => how !== 'rhythm');
  const longest = Math.max(0, ...phrases.phrases.map(({ beats }) => beats));
  const strong = ratio(harmony.strongInChord);
  const root = ratio(harmony.onRoot);
  if (phrases.stops.length > 0) return fact('try-keep-going');
  if (ending.barsBeforeEnd > 1.5) return fact('try-play-to-end', { bars: whole(ending.barsBeforeEnd) });
  if (root !== null && root >= 0.8) return fact('try-other-than-root');
  if (timing.biasMs !== null && Math.abs(timing.biasMs) >= 25)
    return fact(timing.biasMs > 0 ? 'try-less-behind' : 'try-less-ahead', {
      ms: Math.abs(whole(timing.biasMs)),
    });
  if (timing.spreadMs !== null && timing.spreadMs >= 45)
    return fact('try-steadier', { spread: whole(timing.spreadMs) });
  if (harmony.unresolvedAt.length >= 2) return fact('try-resolve', { ...harmony.unresolvedAt[0]! });
  if (strong !== null && harmony.strongInChord.of >= 4 && strong < 0.5) return fact('try-chord-on-strong');
  if (missed * 2 > harmony.changes.length)
    return fact('try-land-third', { bar: harmony.changes.find(({ met }) => met === 'other')!.place.bar });
  if (phrases.phrases.length === 1 && longest >= 16) return fact('try-rest');
  if (rhythm.barsWithNotes >= 4 && rhythm.figures === 1) return fact('try-other-rhythm');
  if (line.notes >= 12 && !tuneful) return fact('try-idea-again');
  if (line.range !== null && line.range[1] - line.range[0] <= 5) return fact('try-wider');
  return fact('try-fewer-notes');
}

/**
 * At most three plain sentences as data, the last a next step: two of what happened, one of what to try.
 */
export function sentences(facts: ImprovisedFacts): Fact[] {
  const { notes } = facts.line;
  if (notes === 0) return [fact('nothing-played')];
  if (notes < FEWEST_NOTES) return [fact('few-notes', { count: notes }), fact('try-more-notes')];
  return [...told(facts).slice(0, 2), nextStep(facts)];
}
