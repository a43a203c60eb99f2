import type { Cue, Metre, SheetMark, SpokenWord } from '../../music/score.ts';
import { sec, ticksToSec } from '../../music/units.ts';
import { barTicks, feltBeats, unitTicks } from '../../music/metre.ts';

/**
 * Bars counted before the player's entry, by metre. Each gives at least four felt beats, or one bar
 * where a bar is long or uneven enough to be felt whole. Common practice, no source.
 */
export const COUNT_IN_BARS: Readonly<Record<string, number>> = {
  '4/4': 1,
  '3/4': 2,
  '6/8': 2,
  '12/8': 1,
  '5/4': 1,
  '7/8': 1,
};

const WORDS: readonly SpokenWord[] = ['one', 'two', 'three', 'four', 'five', 'six', 'seven'];
/** A word is the loudest thing in the count; the clicks between words only carry the subdivision. */
const WORD_VELOCITY = 0.9;
const CLICK_VELOCITY = 0.75;
const SUBDIVISION_VELOCITY = 0.35;

/** How many bars the count lasts; metres without an entry of their own count until four beats are full. */
export function countInBars(metre: Metre): number {
  return COUNT_IN_BARS[`${metre.beats}/${metre.beatUnit}`] ?? Math.ceil(4 / feltBeats(metre).length);
}

export interface CountIn {
  readonly cues: readonly Cue[];
  /** One `countIn` mark for each counted beat. */
  readonly marks: readonly SheetMark[];
  readonly durationSec: number;
}

/**
 * The count before an entry, from `fromSec`.
 *
 * @param voice `spoken`: numbers, the language having a voice; `click`: an accent on each bar's first
 *   beat and a click on the others. An uneven metre (7/8) also clicks its quavers softly, so that the
 *   long group is heard to be long.
 */
export function countIn(metre: Metre, tempo: number, fromSec: number, voice: 'spoken' | 'click'): CountIn {
  const cues: Cue[] = [];
  const marks: SheetMark[] = [];
  const beats = feltBeats(metre);
  const uneven = metre.beatUnit >= 8 && new Set(metre.grouping).size > 1;
  const bars = countInBars(metre);
  const at = (ticks: number) => sec(fromSec + ticksToSec(ticks, tempo));
  for (let bar = 0; bar < bars; bar++) {
    const start = bar * barTicks(metre);
    beats.forEach((beat, i) => {
      const atSec = at(start + beat);
      const word = WORDS[i];
      if (voice === 'spoken' && word) cues.push({ type: 'speech', word, atSec, velocity: WORD_VELOCITY });
      else
        cues.push({
          type: 'drum',
          piece: i === 0 ? 'clickAccent' : 'click',
          atSec,
          velocity: CLICK_VELOCITY,
        });
      marks.push({ label: 'countIn', index: marks.length, atSec });
    });
    if (!uneven) continue;
    for (let unit = 0; unit < metre.beats; unit++) {
      const tick = unit * unitTicks(metre);
      if (!beats.includes(tick))
        cues.push({ type: 'drum', piece: 'click', atSec: at(start + tick), velocity: SUBDIVISION_VELOCITY });
    }
  }
  cues.sort((a, b) => a.atSec - b.atSec);
  return { cues, marks, durationSec: ticksToSec(bars * barTicks(metre), tempo) };
}
