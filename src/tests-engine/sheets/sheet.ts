import type { Cue, CueSheet, SheetMark } from '../../music/score.ts';
import { sec } from '../../music/units.ts';

type Label = SheetMark['label'];

/** Collects cues and marks in any order and hands out the finished, sorted sheet. */
export interface SheetDraft {
  readonly cues: Cue[];
  readonly marks: { label: Label; atSec: number }[];
}

export const draft = (): SheetDraft => ({ cues: [], marks: [] });

/** Sorts, numbers the marks of each label from 0 in order of time, and sets `end`. */
export function finish({ cues, marks }: SheetDraft, durationSec: number): CueSheet {
  const counts = new Map<Label, number>();
  const all = [...marks.filter((m) => m.label !== 'end'), { label: 'end' as const, atSec: durationSec }];
  return {
    durationSec: sec(durationSec),
    cues: cues.sort((a, b) => a.atSec - b.atSec),
    marks: all
      .sort((a, b) => a.atSec - b.atSec)
      .map(({ label, atSec }) => {
        const index = counts.get(label) ?? 0;
        counts.set(label, index + 1);
        return { label, index, atSec: sec(atSec) };
      }),
  };
}

/** One sheet, `gapSec` of silence, another sheet; marks are numbered through. */
export function joinSheets(first: CueSheet, gapSec: number, second: CueSheet): CueSheet {
  const shift = first.durationSec + gapSec;
  return finish(
    {
      cues: [...first.cues, ...second.cues.map((c) => ({ ...c, atSec: sec(c.atSec + shift) }))],
      marks: [...first.marks, ...second.marks.map((m) => ({ ...m, atSec: m.atSec + shift }))],
    },
    shift + second.durationSec,
  );
}

/** Before the first sound, s, so that a device that is only waking up swallows nothing. */
export const LEAD_SEC = 0.25;
/** After the last bar line, s: what was struck last dies away, and a late last note still counts. */
export const TAIL_SEC = 1.5;
