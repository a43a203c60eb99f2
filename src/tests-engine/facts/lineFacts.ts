import { barTicks } from '../../music/metre.ts';
import { endingFacts, type EndingFacts } from './ending.ts';
import { harmonyFacts, type HarmonyFacts } from './harmony.ts';
import { ideas, type Idea } from './ideas.ts';
import { lineFacts, type LineFacts } from './line.ts';
import { loudnessFacts, type LoudnessFacts } from './loudness.ts';
import { phraseFacts, type PhraseFacts } from './phrases.ts';
import { placed } from './place.ts';
import { rhythmFacts, type RhythmFacts } from './rhythm.ts';
import { middle } from '../../music/numbers.ts';
import { timingFacts, type TimingFacts } from './timing.ts';
import type { PlacedNote, PlayedLine } from './types.ts';

/** Everything that is told of a line over a chart. */
export interface ImprovisedFacts {
  readonly placed: readonly PlacedNote[];
  readonly harmony: HarmonyFacts;
  readonly phrases: PhraseFacts;
  readonly line: LineFacts;
  readonly ideas: readonly Idea[];
  readonly rhythm: RhythmFacts;
  readonly timing: TimingFacts;
  readonly loudness: LoudnessFacts;
  readonly ending: EndingFacts;
}

/** So far under the middle level of the pass, dB, a note is a string let go or brushed and was not meant (ours). */
const WHISPER_DB = 18;
function withoutWhispers(notes: PlayedLine['notes']): PlayedLine['notes'] {
  const level = middle(notes.map(({ levelDb }) => levelDb));
  return level === null ? notes : notes.filter(({ levelDb }) => levelDb >= level - WHISPER_DB);
}

/**
 * What happened in one pass of an improvised line: facts, no judgement. Pure; unmoved by the key (chart and notes transposed
 * together) and by the octave. Notes meant for before the first bar line or after the last are left out.
 */
export function improvisedFacts(line: PlayedLine): ImprovisedFacts {
  const { chart } = line;
  const end = barTicks(chart.metre) * chart.bars;
  const notes = placed({ chart, notes: withoutWhispers(line.notes) }).filter(
    ({ ticks }) => ticks >= 0 && ticks < end,
  );
  const phrases = phraseFacts(chart, notes);
  return {
    placed: notes,
    harmony: harmonyFacts(chart, notes),
    phrases,
    line: lineFacts(chart, notes, phrases),
    ideas: ideas(chart, notes),
    rhythm: rhythmFacts(chart, notes),
    timing: timingFacts(chart, notes),
    loudness: loudnessFacts(notes),
    ending: endingFacts(chart, notes),
  };
}
