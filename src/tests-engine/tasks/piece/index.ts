import { swungSec } from '../../../music/piece.ts';
import { sec } from '../../../music/units.ts';
import type { Cue, CueSheet, Phrase } from '../../../music/score.ts';
import type { PieceTask } from '../../../music/task.ts';
import { bpm } from '../../../music/units.ts';
import { count, draft, finish, LEAD_SEC, TAIL_SEC, voiceOf, type SheetDraft } from '../../sheets/index.ts';
import { countedSpan } from '../../take/index.ts';
import type { TaskHandler } from '../types.ts';
import { askedStrokes } from './chords.ts';
import { markPieceTake, wayOf } from './mark.ts';
import { beatSecOf, dueNotes, firstWholeTicks, timesOf } from './times.ts';

const PART_VELOCITY = 0.85;
/** A little shorter than written, so that a repeated note is heard as two. */
const SOUNDING_SHARE = 0.96;

/** The part's own notes, the take's first bar at `fromSec`. */
function partCues(task: PieceTask, fromSec: number): Cue[] {
  const { map, startSec } = timesOf(task);
  return dueNotes(task).map(({ onsetSec, note }) => {
    const { startTicks, durationTicks, midi } = task.part![note]!;
    const end = swungSec(map, startTicks + durationTicks, task.swing) - startSec;
    return {
      type: 'note',
      voice: voiceOf(task),
      role: 'phrase',
      midi,
      atSec: sec(fromSec + onsetSec),
      durationSec: sec(Math.max(0.05, (end - onsetSec) * SOUNDING_SHARE)),
      velocity: PART_VELOCITY,
    };
  });
}

/** Bar and beat marks of the bars that are played, the first at `at`. */
function markTimes(sheet: SheetDraft, task: PieceTask, at: number): void {
  const { barSecs } = timesOf(task);
  const beat = beatSecOf(task);
  barSecs.slice(0, -1).forEach((bar, k) => {
    sheet.marks.push({ label: 'bar', atSec: at + bar });
    for (let b = bar; b < barSecs[k + 1]! - beat / 4; b += beat)
      sheet.marks.push({ label: 'beat', atSec: at + b });
  });
}

/** The recording from the take's first bar on, that bar at `at`. */
function withTrack(sheet: CueSheet, task: PieceTask, at: number): CueSheet {
  const { map, startSec, lengthSec } = timesOf(task);
  const stretch = task.track.bpm / task.tempoBpm;
  const whole = map.secAt(firstWholeTicks(task.bars));
  // On the recording's own clock.
  const wanted = task.track.barOneSec + (startSec - whole) / stretch;
  const fromSec = Math.max(0, wanted);
  const atSec = at + (fromSec - wanted) * stretch;
  const most = Math.max(0, task.track.durationSec - fromSec) * stretch;
  const until = Math.min(at + lengthSec + TAIL_SEC, sheet.durationSec);
  const soundsSec = Math.max(0, Math.min(most, until - atSec));
  return {
    ...sheet,
    track: {
      id: task.track.id,
      atSec: sec(atSec),
      fromSec: sec(fromSec),
      lengthSec: sec(soundsSec),
      stretch,
    },
  };
}

/** The metre and tempo at the take's first bar, to count in by. */
function counting(task: PieceTask): { phrase: Phrase; tempoBpm: PieceTask['tempoBpm']; swing: number } {
  const { map, fromTicks } = timesOf(task);
  return { phrase: task.phrase, tempoBpm: bpm(map.bpmAt(fromTicks)), swing: 0.5 };
}

/** A piece of the player's own, along its recording: counted in, played once through or from bar to bar. */
export const piece: TaskHandler<PieceTask> = {
  kind: 'piece',
  plan: () => ({
    steps: [{ does: 'play', sheet: 'performance', passes: 1, longestSec: 0, records: true }],
    // Bars from … to are chosen before it begins.
    bars: 1,
    hearings: 1,
  }),
  sounded(task, { tempoFactor = 1 }) {
    if (!(tempoFactor >= 0.25 && tempoFactor <= 1.5))
      throw new RangeError(`a tempo factor lies between 0.25 and 1.5, got ${tempoFactor}`);
    if (tempoFactor === 1) return task;
    const tempi = task.tempi.map((mark) => ({ ...mark, bpm: mark.bpm * tempoFactor }));
    return { ...task, tempi, tempoBpm: bpm(tempi[0]!.bpm) };
  },
  sheet(task, name, options) {
    if (name !== 'performance') throw new RangeError(`a piece has no ${name}`);
    const sounded = piece.sounded(task, options);
    const sheet = draft();
    const at = count(sheet, counting(sounded), LEAD_SEC, options.count ?? 'spoken');
    const { lengthSec } = timesOf(sounded);
    sheet.marks.push({ label: 'takeStart', atSec: at }, { label: 'takeEnd', atSec: at + lengthSec });
    markTimes(sheet, sounded, at);
    return withTrack(finish(sheet, at + lengthSec + TAIL_SEC), sounded, at);
  },
  /** The part where it is known, alone; else the recording. */
  target(task) {
    const sheet = draft();
    sheet.marks.push({ label: 'phrase', atSec: LEAD_SEC });
    markTimes(sheet, task, LEAD_SEC);
    const length = LEAD_SEC + timesOf(task).lengthSec + TAIL_SEC;
    if (task.part === null) return withTrack(finish(sheet, length), task, LEAD_SEC);
    sheet.cues.push(...partCues(task, LEAD_SEC));
    return finish(sheet, length);
  },
  together: [],
  span: (task) => countedSpan(beatSecOf(task), timesOf(task).lengthSec),
  chords: (task) => (wayOf(task) === 'chords' ? askedStrokes(task) : undefined),
  mark: markPieceTake,
};
