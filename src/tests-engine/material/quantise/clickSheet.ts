import type { CueSheet, Metre } from '../../../music/score.ts';
import { sec, ticksToSec } from '../../../music/units.ts';
import { countIn } from '../../procedure/count-in.ts';
import { feltBeats } from '../../procedure/metre.ts';
import { draft, finish } from '../../procedure/sheet.ts';
import { barTicks } from '../metre/metres.ts';

/** Before the first click, so that a device that is only waking up swallows nothing. */
const LEAD_SEC = 0.25;
/** What was struck last dies away. */
const TAIL_SEC = 1;
/** Under the count, so that the player hears where the bars begin and not only the click. */
const ACCENT = 0.6;
const PLAIN = 0.45;

/**
 * A click to play a phrase to: the metre's count-in, then a click on each felt beat.
 * Marks: `countIn`, `takeStart` on beat 1 of bar 1, `bar` and `beat`, `takeEnd`, `end`.
 */
export function clickSheet(metre: Metre, bars: number, tempoBpm: number): CueSheet {
  const sheet = draft();
  const count = countIn(metre, tempoBpm, LEAD_SEC, 'click');
  sheet.cues.push(...count.cues);
  sheet.marks.push(...count.marks);
  const start = LEAD_SEC + count.durationSec;
  for (let bar = 0; bar < bars; bar++) {
    feltBeats(metre).forEach((beat, i) => {
      const atSec = start + ticksToSec(bar * barTicks(metre) + beat, tempoBpm);
      if (i === 0) sheet.marks.push({ label: 'bar', atSec });
      sheet.marks.push({ label: 'beat', atSec });
      sheet.cues.push({
        type: 'drum',
        piece: i === 0 ? 'clickAccent' : 'click',
        atSec: sec(atSec),
        velocity: i === 0 ? ACCENT : PLAIN,
      });
    });
  }
  const end = start + ticksToSec(bars * barTicks(metre), tempoBpm);
  sheet.marks.push({ label: 'takeStart', atSec: start }, { label: 'takeEnd', atSec: end });
  return finish(sheet, end + TAIL_SEC);
}
