import type { Cue, CueSheet, Metre } from '../../music/score.ts';
import { barTicks, feltBeats } from '../../music/metre.ts';
import { bpm, sec, ticksToSec } from '../../music/units.ts';
import { takeOver, type Passage } from './passage.ts';
import { draft, finish, LEAD_SEC } from './sheet.ts';

/** Under the count, so that the player hears where the bars begin and not only the click. */
const ACCENT = 0.6;
const PLAIN = 0.45;

/** A click on each felt beat of the passage's bars, the first of each bar accented. */
export function clickCues({ phrase, tempoBpm }: Passage, fromSec: number): readonly Cue[] {
  const { metre, bars } = phrase;
  const cues: Cue[] = [];
  for (let bar = 0; bar < bars; bar++)
    feltBeats(metre).forEach((beat, i) => {
      cues.push({
        type: 'drum',
        piece: i === 0 ? 'clickAccent' : 'click',
        atSec: sec(fromSec + ticksToSec(bar * barTicks(metre) + beat, tempoBpm)),
        velocity: i === 0 ? ACCENT : PLAIN,
      });
    });
  return cues;
}

/**
 * A click to play a phrase to: the metre's count-in, then a click on each felt beat.
 * Marks: `countIn`, `takeStart` on beat 1 of bar 1, `bar` and `beat`, `takeEnd`, `end`.
 */
export const clickSheet = (metre: Metre, bars: number, tempoBpm: number): CueSheet =>
  takeOver({ phrase: { metre, bars, notes: [] }, tempoBpm: bpm(tempoBpm), swing: 0.5 }, clickCues, {
    voice: 'click',
  });

/** Nothing but a click for `lengthSec`, from {@link LEAD_SEC}: to prepare to. Marks `bar` and `end`. */
export function clickFor(metre: Metre, tempoBpm: number, lengthSec: number): CueSheet {
  const bar = ticksToSec(barTicks(metre), tempoBpm);
  const bars = Math.max(1, Math.ceil(lengthSec / bar));
  const sheet = draft();
  const passage = { phrase: { metre, bars, notes: [] }, tempoBpm: bpm(tempoBpm), swing: 0.5 };
  sheet.cues.push(...clickCues(passage, LEAD_SEC).filter(({ atSec }) => atSec < lengthSec));
  for (let i = 0; i < bars; i++) sheet.marks.push({ label: 'bar', atSec: LEAD_SEC + i * bar });
  return finish(sheet, lengthSec);
}
