import type { CueSheet, PracticeTest } from '../../../music/score.ts';
import { barSec, phraseSec } from '../../../music/time.ts';
import { bpm, midi, sec } from '../../../music/units.ts';
import { backingCues } from '../../backing/backing.ts';
import { tonicTriad } from '../../backing/tonic.ts';
import {
  alone,
  count,
  draft,
  finish,
  joinSheets,
  LEAD_SEC,
  markBars,
  phraseCues,
  TAIL_SEC,
  takeOver,
  voiceOf,
  type SheetDraft,
} from '../../sheets/index.ts';
import type { SheetOptions } from '../../procedure/options.ts';
import { halfOf } from './half.ts';

/** Long enough to take in a chord, and the note after it, without haste; common practice, no source. */
const TONIC_SEC = 1.8;
const FIRST_NOTE_SEC = 1.6;
const PAUSE_SEC = 0.4;
const REFERENCE_VELOCITY = 0.75;

/** The test with an option's tempo and half: what then is sounded and marked. */
export function asSounded<T extends PracticeTest>(test: T, options: SheetOptions): T {
  const factor = options.tempoFactor ?? 1;
  if (!(factor >= 0.25 && factor <= 1.5))
    throw new RangeError(`a tempo factor lies between 0.25 and 1.5, got ${factor}`);
  const part = options.half ? halfOf(test, options.half) : test;
  return factor === 1 ? part : { ...part, tempoBpm: bpm(part.tempoBpm * factor) };
}

/** Sounds the note that the phrase starts on; a rhythm's is its string. */
function firstNote(sheet: SheetDraft, test: PracticeTest, atSec: number): number {
  const first = test.phrase.notes[0]?.midi ?? test.tuning[0];
  if (first === undefined) throw new RangeError('a test needs a first note or a tuning');
  sheet.marks.push({ label: 'firstNote', atSec });
  sheet.cues.push({
    type: 'note',
    voice: voiceOf(test),
    role: 'reference',
    midi: first,
    atSec: sec(atSec),
    durationSec: sec(FIRST_NOTE_SEC),
    velocity: REFERENCE_VELOCITY,
  });
  return atSec + FIRST_NOTE_SEC;
}

/**
 * The hearing: tonic chord, first note, a count of clicks (the spoken count is kept for the player's own
 * entry), the phrase over its backing, a bar of drums, the phrase again.
 *
 * Marks: `tonic`, `firstNote`, `countIn` for each counted beat, `phrase` where each sounding of the phrase
 * starts, `bar` and `beat` in it, `end`.
 */
export function hearingSheet(test: PracticeTest, options: SheetOptions = {}): CueSheet {
  const sounded = asSounded(test, options);
  const times = options.repeat ?? test.procedure.hearings;
  if (!Number.isInteger(times) || times < 1 || times > 10)
    throw new RangeError(`a phrase is heard 1 to 10 times, got ${times}`);
  const sheet = draft();
  sheet.marks.push({ label: 'tonic', atSec: LEAD_SEC });
  for (const note of tonicTriad(test))
    sheet.cues.push({
      type: 'note',
      voice: 'keys',
      role: 'reference',
      midi: midi(note),
      atSec: sec(LEAD_SEC),
      durationSec: sec(TONIC_SEC),
      velocity: REFERENCE_VELOCITY,
    });
  let at = firstNote(sheet, sounded, LEAD_SEC + TONIC_SEC + PAUSE_SEC) + PAUSE_SEC;
  at = count(sheet, sounded, at, 'click');
  const oneBar = { ...sounded, phrase: { ...sounded.phrase, bars: 1 } };
  for (let time = 0; time < times; time++) {
    if (time > 0) {
      sheet.cues.push(...backingCues(oneBar, at, 'drums'));
      at += barSec(sounded);
    }
    sheet.marks.push({ label: 'phrase', atSec: at });
    markBars(sheet, sounded, at);
    sheet.cues.push(...backingCues(sounded, at), ...phraseCues(sounded, at));
    at += phraseSec(sounded);
  }
  return finish(sheet, at + TAIL_SEC);
}

/**
 * The performance: the spoken count, then the backing alone while the student plays.
 *
 * Marks: `countIn` for each counted beat, `takeStart` on beat 1 of bar 1, `bar` and `beat`, `takeEnd` on the
 * last bar line, `end` after the tail in which a late last note still counts.
 */
export function performanceSheet(test: PracticeTest, options: SheetOptions = {}): CueSheet {
  return takeOver(asSounded(test, options), backingCues, { voice: options.count ?? 'spoken' });
}

/** The phrase alone, first bar line at {@link LEAD_SEC}: for "play target" and for export. */
export const phraseSheet = (test: PracticeTest, options: SheetOptions = {}): CueSheet =>
  alone(asSounded(test, options), phraseCues);

/** The backing alone, over the same span as {@link phraseSheet}. */
export const backingSheet = (test: PracticeTest, options: SheetOptions = {}): CueSheet =>
  alone(asSounded(test, options), backingCues);

/** The first note once more. */
export function firstNoteSheet(test: PracticeTest, options: SheetOptions = {}): CueSheet {
  const sheet = draft();
  const end = firstNote(sheet, asSounded(test, options), LEAD_SEC);
  return finish(sheet, end + PAUSE_SEC);
}

/** The whole test in one piece: hearing, the practice window as silence, performance. */
export function wholeSheet(test: PracticeTest, options: SheetOptions = {}): CueSheet {
  return joinSheets(hearingSheet(test, options), test.procedure.practiceSec, performanceSheet(test, options));
}
