import type { Cue, CueSheet, Instrument, Phrase, PitchedVoice } from '../../music/score.ts';
import { barTicks, feltBeats } from '../../music/metre.ts';
import { performedSec, phraseSec, type Pace } from '../../music/time.ts';
import { sec } from '../../music/units.ts';
import { countIn } from './countIn.ts';
import { draft, finish, LEAD_SEC, TAIL_SEC, type SheetDraft } from './sheet.ts';

/** Written music with the pace at which it passes. */
export interface Passage extends Pace {
  readonly phrase: Phrase;
}
export interface PlayedPassage extends Passage {
  readonly instrument: Instrument;
}

const PHRASE_VELOCITY = 0.85;
/** A written note sounds a little shorter than written, so that a repeated one is heard as two. */
const SOUNDING_SHARE = 0.96;

export const voiceOf = ({ instrument }: { readonly instrument: Instrument }): PitchedVoice =>
  instrument === 'bass' ? 'bassGuitar' : 'guitar';

/** The notes of a passage as the instrument would play them, first bar line at `fromSec`. */
export function phraseCues(passage: PlayedPassage, fromSec: number): readonly Cue[] {
  return passage.phrase.notes.map((note) => {
    const start = performedSec(note.startTicks, passage);
    const end = performedSec(note.startTicks + note.durationTicks, passage);
    return {
      type: 'note',
      voice: voiceOf(passage),
      role: 'phrase',
      midi: note.midi,
      atSec: sec(fromSec + start),
      durationSec: sec((end - start) * SOUNDING_SHARE),
      velocity: PHRASE_VELOCITY,
    };
  });
}

/** `bar` and `beat` marks of a passage whose first bar line lies at `fromSec`. */
export function markBars(sheet: SheetDraft, passage: Passage, fromSec: number): void {
  const { metre, bars } = passage.phrase;
  for (let bar = 0; bar < bars; bar++) {
    const start = bar * barTicks(metre);
    sheet.marks.push({ label: 'bar', atSec: fromSec + performedSec(start, passage) });
    for (const beat of feltBeats(metre))
      sheet.marks.push({ label: 'beat', atSec: fromSec + performedSec(start + beat, passage) });
  }
}

/** Counts in from `atSec`; returns when the count is over, which is beat 1. */
export function count(sheet: SheetDraft, passage: Passage, atSec: number, voice: 'spoken' | 'click'): number {
  const { cues, marks, durationSec } = countIn(passage.phrase.metre, passage.tempoBpm, atSec, voice);
  sheet.cues.push(...cues);
  sheet.marks.push(...marks);
  return atSec + durationSec;
}

/** What sounds over a passage, from its first bar line at `fromSec`. */
export type Part<P extends Passage = Passage> = (passage: P, fromSec: number) => readonly Cue[];

/** One part alone, first bar line at {@link LEAD_SEC}; marks `phrase`, `bar`, `beat`, `end`. */
export function alone<P extends Passage>(passage: P, part: Part<P>): CueSheet {
  const sheet = draft();
  sheet.marks.push({ label: 'phrase', atSec: LEAD_SEC });
  markBars(sheet, passage, LEAD_SEC);
  sheet.cues.push(...part(passage, LEAD_SEC));
  return finish(sheet, LEAD_SEC + phraseSec(passage) + TAIL_SEC);
}

/**
 * A count, then `part` under the player, `passes` times without a break between.
 *
 * Marks: `countIn` for each counted beat, `takeStart` on beat 1 of bar 1 of each pass, `bar` and `beat`,
 * `takeEnd` on each pass's last bar line, `end` after the tail in which a late last note still counts.
 */
export function takeOver<P extends Passage>(
  passage: P,
  part: Part<P>,
  { voice = 'spoken', passes = 1 }: { readonly voice?: 'spoken' | 'click'; readonly passes?: number } = {},
): CueSheet {
  const sheet = draft();
  let at = count(sheet, passage, LEAD_SEC, voice);
  for (let pass = 0; pass < passes; pass++) {
    const end = at + phraseSec(passage);
    sheet.marks.push({ label: 'takeStart', atSec: at }, { label: 'takeEnd', atSec: end });
    markBars(sheet, passage, at);
    sheet.cues.push(...part(passage, at));
    at = end;
  }
  return finish(sheet, at + TAIL_SEC);
}
