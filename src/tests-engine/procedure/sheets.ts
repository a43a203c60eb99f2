import type { Cue, CueSheet, PracticeTest } from '../../music/score.ts';
import { bpm, midi, sec } from '../../music/units.ts';
import { backingCues } from '../backing/backing.ts';
import { tonicTriad } from '../backing/tonic.ts';
import { countIn } from './count-in.ts';
import { halfOf, type Half } from './half.ts';
import { barTicks } from '../material/metre/metres.ts';
import { barSec, feltBeats, performedSec } from './metre.ts';
import { draft, finish, joinSheets, type SheetDraft } from './sheet.ts';

/** How a sheet departs from the test as it was set. All of these are help and only the relaxed manner has them. */
export interface SheetOptions {
  /** Times the phrase is sounded; the test's own number by default; 1…10. */
  readonly repeat?: number;
  /** 1 = the test's tempo, 0.5 = half as fast; 0.25…1.5. */
  readonly tempoFactor?: number;
  readonly half?: Half | null;
  /** How the count is given; `click` where the language has no voice. */
  readonly count?: 'spoken' | 'click';
}

/** Before the first sound, so that a device that is only waking up swallows nothing. */
const LEAD_SEC = 0.25;
/** Long enough to take in a chord, and the note after it, without haste; common practice, no source. */
const TONIC_SEC = 1.8;
const FIRST_NOTE_SEC = 1.6;
const PAUSE_SEC = 0.4;
/** What was struck last dies away. */
const TAIL_SEC = 1.5;
const PHRASE_VELOCITY = 0.85;
const REFERENCE_VELOCITY = 0.75;
/** A written note sounds a little shorter than written, so that a repeated one is heard as two. */
const SOUNDING_SHARE = 0.96;

/** The test with an option's tempo and half: what then is sounded and marked. */
export function asSounded(test: PracticeTest, options: SheetOptions): PracticeTest {
  const factor = options.tempoFactor ?? 1;
  if (!(factor >= 0.25 && factor <= 1.5))
    throw new RangeError(`a tempo factor lies between 0.25 and 1.5, got ${factor}`);
  const part = options.half ? halfOf(test, options.half) : test;
  return factor === 1 ? part : { ...part, tempoBpm: bpm(part.tempoBpm * factor) };
}

const phraseVoice = (test: PracticeTest) => (test.instrument === 'bass' ? 'bassGuitar' : 'guitar');

function phraseCues(test: PracticeTest, fromSec: number): readonly Cue[] {
  return test.phrase.notes.map((note) => {
    const start = performedSec(note.startTicks, test);
    const end = performedSec(note.startTicks + note.durationTicks, test);
    return {
      type: 'note',
      voice: phraseVoice(test),
      role: 'phrase',
      midi: note.midi,
      atSec: sec(fromSec + start),
      durationSec: sec((end - start) * SOUNDING_SHARE),
      velocity: PHRASE_VELOCITY,
    };
  });
}

/** `bar` and `beat` marks of the phrase's bars. */
function markBars(sheet: SheetDraft, test: PracticeTest, fromSec: number): void {
  const { metre, bars } = test.phrase;
  for (let bar = 0; bar < bars; bar++) {
    const start = bar * barTicks(metre);
    sheet.marks.push({ label: 'bar', atSec: fromSec + performedSec(start, test) });
    for (const beat of feltBeats(metre))
      sheet.marks.push({ label: 'beat', atSec: fromSec + performedSec(start + beat, test) });
  }
}

/** Sounds the note that the phrase starts on; a rhythm's is its string. */
function firstNote(sheet: SheetDraft, test: PracticeTest, atSec: number): number {
  const first = test.phrase.notes[0]?.midi ?? test.tuning[0];
  if (first === undefined) throw new RangeError('a test needs a first note or a tuning');
  sheet.marks.push({ label: 'firstNote', atSec });
  sheet.cues.push({
    type: 'note',
    voice: phraseVoice(test),
    role: 'reference',
    midi: first,
    atSec: sec(atSec),
    durationSec: sec(FIRST_NOTE_SEC),
    velocity: REFERENCE_VELOCITY,
  });
  return atSec + FIRST_NOTE_SEC;
}

function count(sheet: SheetDraft, test: PracticeTest, atSec: number, voice: 'spoken' | 'click'): number {
  const { cues, marks, durationSec } = countIn(test.phrase.metre, test.tempoBpm, atSec, voice);
  sheet.cues.push(...cues);
  sheet.marks.push(...marks);
  return atSec + durationSec;
}

const phraseSec = (test: PracticeTest): number => test.phrase.bars * barSec(test);

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
  const sounded = asSounded(test, options);
  const sheet = draft();
  const start = count(sheet, sounded, LEAD_SEC, options.count ?? 'spoken');
  const end = start + phraseSec(sounded);
  sheet.marks.push({ label: 'takeStart', atSec: start }, { label: 'takeEnd', atSec: end });
  markBars(sheet, sounded, start);
  sheet.cues.push(...backingCues(sounded, start));
  return finish(sheet, end + TAIL_SEC);
}

/** The phrase alone, first bar line at {@link LEAD_SEC}: for "play target" and for export. */
export function phraseSheet(test: PracticeTest, options: SheetOptions = {}): CueSheet {
  return passage(asSounded(test, options), phraseCues);
}

/** The backing alone, over the same span as {@link phraseSheet}. */
export function backingSheet(test: PracticeTest, options: SheetOptions = {}): CueSheet {
  return passage(asSounded(test, options), backingCues);
}

function passage(
  test: PracticeTest,
  part: (test: PracticeTest, fromSec: number) => readonly Cue[],
): CueSheet {
  const sheet = draft();
  sheet.marks.push({ label: 'phrase', atSec: LEAD_SEC });
  markBars(sheet, test, LEAD_SEC);
  sheet.cues.push(...part(test, LEAD_SEC));
  return finish(sheet, LEAD_SEC + phraseSec(test) + TAIL_SEC);
}

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
