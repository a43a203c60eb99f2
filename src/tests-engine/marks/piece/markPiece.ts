import { median } from '../../../music/numbers.ts';
import {
  fullCreditSec,
  rampSec,
  shortestValueSec,
  UNKNOWN_LATENCY_SEC,
  FREE_LEAD_SEC,
} from '../tolerances.ts';
import { ramp } from '../cost.ts';
import { MELODY, OCTAVE_SHARE, restartPrice } from '../rule.ts';
import type { NoteVerdict } from '../types.ts';
import { barStates, UNCLEAR } from './bars.ts';
import { pieceEvents } from './events.ts';
import { follow, type Followed } from './follow.ts';
import type { BarState, PieceEvent, PieceRequest } from './types.ts';

export interface MarkedPiece {
  /** 0…100. */
  readonly mark: number;
  readonly verdicts: readonly NoteVerdict[];
  /** One for each bar that was asked for. */
  readonly bars: readonly BarState[];
  readonly events: readonly PieceEvent[];
  /** Median of played minus due of what was played with the backing, ms, and its robust spread. */
  readonly biasMs: number | null;
  readonly unevennessMs: number | null;
  /** Taken out of every note: what the latency leaves open, ms. */
  readonly leadMs: number;
  readonly lost: {
    readonly notes: number;
    readonly rhythm: number;
    readonly pulse: number;
    readonly continuity: number;
  };
}

/** Of notes and their due times that may belong together: how far apart the middle of them lies. */
function leadOf({ target, played }: PieceRequest, most: number): number {
  const near: number[] = [];
  let from = 0;
  for (const note of played) {
    while (from < target.length && target[from]!.onsetSec < note.onsetSec - NEAR_SEC) from++;
    let best = Infinity;
    for (let i = from; i < target.length && target[i]!.onsetSec <= note.onsetSec + NEAR_SEC; i++) {
      const off = note.onsetSec - target[i]!.onsetSec;
      if (Math.abs(note.midi - target[i]!.midi) < 0.5 && Math.abs(off) < Math.abs(best)) best = off;
    }
    if (best < Infinity) near.push(best);
  }
  return near.length < 3 ? 0 : Math.max(-most, Math.min(most, median(near)));
}
/** A note further off than this is not the one that was due: twice what may be unknown of a latency. */
const NEAR_SEC = 0.3;

/**
 * Marks one line of a piece, played along its backing: every written note, every bar, and what happened to the whole.
 * The prices are those of a melody (`rule.ts`); a jump costs what a restart does.
 *
 * @throws RangeError where there is no written note
 */
export function markPiece(request: PieceRequest): MarkedPiece {
  const { target, played, barSecs, latencyUncertaintyMs = 0 } = request;
  if (target.length === 0) throw new RangeError('a piece to be marked has a note');
  const openSec = Math.min(UNKNOWN_LATENCY_SEC, latencyUncertaintyMs / 1000);
  const lead = leadOf(request, Math.max(openSec, FREE_LEAD_SEC));
  const onBacking = played.map((note) => ({ ...note, onsetSec: note.onsetSec - lead }));
  const free = fullCreditSec(shortestValueSec(target.map((t) => t.onsetSec)), openSec, false);
  const width = rampSec(undefined);
  const way = withoutStrays(follow({ target, played: onBacking, freeSec: free, rampSec: width }), request);
  const besideSec = request.beatSec / 2;

  const answers = new Map<number, Followed>();
  for (const one of way) {
    const before = answers.get(one.target);
    const off = (f: Followed): number =>
      Math.abs(onBacking[f.played]!.onsetSec - target[f.target]!.onsetSec) +
      (Math.abs(onBacking[f.played]!.midi - target[f.target]!.midi) < 0.5 ? 0 : width);
    if (!before || off(one) < off(before)) answers.set(one.target, one);
  }

  const lost = { notes: 0, rhythm: 0, pulse: 0, continuity: 0 };
  const verdicts: { at: number; verdict: NoteVerdict }[] = [];
  const errors: number[] = [];
  target.forEach((due, i) => {
    const answer = answers.get(i);
    if (!answer) {
      lost.notes += MELODY.missed;
      verdicts.push({
        at: due.onsetSec,
        verdict: {
          kind: 'missed',
          targetIndex: i,
          playedIndex: null,
          errorMs: null,
          errorSemitones: null,
          unclear: false,
        },
      });
      return;
    }
    const note = onBacking[answer.played]!;
    const offSec = note.onsetSec - due.onsetSec;
    const semitones = note.midi - due.midi;
    const unclear = note.confidence < UNCLEAR;
    const inStep = Math.abs(offSec) > besideSec;
    const wrong = Math.abs(semitones) >= 0.5;
    const time = ramp(offSec, free, width);
    if (wrong && !unclear) lost.notes += MELODY.pitch * (Math.abs(semitones) % 12 < 0.5 ? OCTAVE_SHARE : 1);
    if (inStep) lost.pulse += MELODY.displaced;
    else {
      lost.rhythm += MELODY.time * time;
      errors.push(offSec * 1000);
    }
    const late = !inStep && time > 0;
    verdicts.push({
      at: due.onsetSec,
      verdict: {
        kind: wrong && !unclear ? 'wrong' : late && !unclear ? (offSec > 0 ? 'late' : 'early') : 'right',
        targetIndex: i,
        playedIndex: answer.played,
        errorMs: Math.round(offSec * 10000) / 10,
        errorSemitones: semitones,
        unclear,
        ...(inStep ? { inStep: true } : {}),
      },
    });
  });
  const used = new Set([...answers.values()].map(({ played: j }) => j));
  const again = new Set(way.map(({ played: j }) => j));
  onBacking.forEach((note, j) => {
    if (used.has(j)) return;
    const repeated = again.has(j);
    const unclear = note.confidence < UNCLEAR;
    // What belongs to a passage played again is paid for by the going back.
    if (!repeated && !unclear) lost.notes += MELODY.extra;
    verdicts.push({
      at: note.onsetSec,
      verdict: {
        kind: 'extra',
        targetIndex: null,
        playedIndex: j,
        errorMs: null,
        errorSemitones: null,
        unclear,
        ...(repeated ? { repeated: true } : {}),
      },
    });
  });
  const events = pieceEvents({ ...request, played: onBacking }, way);
  lost.continuity +=
    restartPrice(MELODY) * events.filter(({ kind }) => kind === 'wentBack' || kind === 'jumpedOn').length;
  const share = (points: number): number => Math.round((1000 * points) / target.length) / 10;
  const points = lost.notes + lost.rhythm + lost.pulse + lost.continuity;
  const middle = errors.length < 3 ? null : median(errors);
  return {
    mark: Math.max(0, Math.round(1000 * (1 - points / target.length)) / 10),
    verdicts: verdicts.sort((a, b) => a.at - b.at).map(({ verdict }) => verdict),
    bars: barStates({ ...request, played: onBacking, barSecs }, way, answers, besideSec),
    events,
    biasMs: middle === null ? null : middle + lead * 1000,
    unevennessMs: middle === null ? null : 1.4826 * median(errors.map((e) => Math.abs(e - middle))),
    leadMs: lead * 1000,
    lost: {
      notes: share(lost.notes),
      rhythm: share(lost.rhythm),
      pulse: share(lost.pulse),
      continuity: share(lost.continuity),
    },
  };
}

/** Answers in a row that make a jump one: fewer are chance. */
const FEWEST_IN_A_RUN = 4;

/** The way without runs too short to be a place where the player was, unless they lie where the backing is. */
function withoutStrays(way: readonly Followed[], { target, played, beatSec }: PieceRequest): Followed[] {
  const runs: Followed[][] = [];
  for (const one of way) {
    if (one.jumped || runs.length === 0) runs.push([one]);
    else runs.at(-1)!.push(one);
  }
  const right = (run: readonly Followed[]): number =>
    run.filter((f) => Math.abs(target[f.target]!.midi - played[f.played]!.midi) < 0.5).length;
  const withBacking = (run: readonly Followed[]): boolean => {
    const offs = run.map((f) => Math.abs(played[f.played]!.onsetSec - target[f.target]!.onsetSec));
    return median(offs) < beatSec / 2;
  };
  return runs.filter((run) => withBacking(run) || right(run) >= FEWEST_IN_A_RUN).flat();
}
