import type { CueSheet } from '../../music/score.ts';

/** Longest sheet, seconds: a hearing at 40 bpm lasts under 3 minutes; ten are 120 MB of samples and no test. */
const MAX_SHEET_SEC = 600;
/** With a recording of its own: ten minutes at two thirds of the tempo, 170 MB. */
const MAX_TRACK_SEC = 900;

/** @throws RangeError for a duration or a cue that cannot be rendered, with the value and what is allowed. */
export function checkSheet(sheet: CueSheet): void {
  const { durationSec } = sheet;
  const longest = sheet.track ? MAX_TRACK_SEC : MAX_SHEET_SEC;
  if (!(durationSec > 0 && durationSec <= longest))
    throw new RangeError(`a sheet lasts 0 to ${longest} s, got ${durationSec}`);
  for (const cue of sheet.cues) {
    if (!(cue.atSec >= 0 && cue.atSec <= durationSec))
      throw new RangeError(`a cue sounds within the sheet, 0 to ${durationSec} s, got ${cue.atSec}`);
    if (!(cue.velocity >= 0 && cue.velocity <= 1))
      throw new RangeError(`velocity is 0 to 1, got ${cue.velocity}`);
    if (cue.type === 'note' && !(cue.durationSec > 0))
      throw new RangeError(`a note's duration is > 0 s, got ${cue.durationSec}`);
  }
}
