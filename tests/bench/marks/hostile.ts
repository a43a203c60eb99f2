import { kindest, markOf, prepare } from '../../../src/tests-engine/marks/prepare.ts';
import type { Clock, MarkRequest, PlayedNote, Transposition } from '../../../src/tests-engine/index.ts';
import { random } from './stats.ts';

type Next = () => number;
/** A take and a millisecond or a cent more on one of its notes, or on all. */
export interface Change {
  readonly request: MarkRequest;
  readonly note: number | 'all';
  readonly ms: number;
  readonly cents: number;
}

const MOST_NOTES = 15;
/** Written notes closer than this are no phrase. */
const LEAST_GAP_SEC = 0.04;

const one = <T>(list: readonly T[], next: Next): T => list[Math.floor(next() * list.length)]!;
const normal = (next: Next): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
const mark = (request: MarkRequest): number => markOf(kindest(prepare(request), () => 1));

function nudged({ request, note, ms, cents }: Change): MarkRequest {
  const played = request.played.map((n, j) =>
    note === 'all' || note === j
      ? {
          ...n,
          onsetSec: n.onsetSec + ms / 1000,
          ...(n.midi === undefined ? {} : { midi: n.midi + cents / 100 }),
        }
      : n,
  );
  return { ...request, played };
}
/** How far the change moves the unrounded mark. */
export const moved = (change: Change): number => Math.abs(mark(change.request) - mark(nudged(change)));

function nudge(notes: number, next: Next): Omit<Change, 'request'> {
  const time = next() < 0.6;
  return {
    note: next() < 0.2 ? 'all' : Math.floor(next() * notes),
    ms: time ? one([-1, 1], next) : 0,
    cents: time ? 0 : one([-1, 1], next),
  };
}

/** A phrase and a take of it, or notes that have nothing to do with it; at any speed. */
function start(clock: Clock, most: number, next: Next): Change {
  const [n, m] = [1 + Math.floor(next() * most), 2 + Math.floor(next() * (most - 1))];
  const rhythm = next() < 0.3;
  const pitch = (midi: number): Partial<PlayedNote> => (rhythm ? {} : { midi });
  const grid = LEAST_GAP_SEC + 0.3 * next();
  let end = 0;
  const target = Array.from({ length: n }, (): PlayedNote => {
    const note = { onsetSec: end, ...pitch(48 + Math.floor(next() * 25)) };
    end += one([1, 2, 2, 2, 3, 4], next) * grid;
    return note;
  });
  const span = end * 2 ** (3 * next() - 2.2);
  const alike = next() < 0.5;
  const played = Array.from({ length: m }, (_, k): PlayedNote =>
    alike && k < n
      ? {
          onsetSec: Math.max(0, (target[k]!.onsetSec * span) / end + 0.05 * normal(next)),
          ...pitch((target[k]!.midi ?? 0) + (next() < 0.3 ? one([1, -2, 12, 0.4], next) : 0)),
        }
      : { onsetSec: next() * span, ...pitch(45 + 30 * next()) },
  );
  const request = {
    target,
    played,
    clock,
    transposition: one<Transposition>(['none', 'octave', 'any'], next),
    latencyUncertaintyMs: one([0, 0, 30, Infinity], next),
  };
  return { request, ...nudge(m, next) };
}

const possible = ({ request: { target } }: Change): boolean =>
  target.every((n, k) => k === 0 || n.onsetSec - target[k - 1]!.onsetSec >= LEAST_GAP_SEC);

/** Something about the take made a little different, on any scale; the same where that is no take. */
function mutate(change: Change, most: number, next: Next): Change {
  const { target, played } = change.request;
  const size = 10 ** (-4 * next());
  const [i, j] = [Math.floor(next() * target.length), Math.floor(next() * played.length)];
  const other = one(played, next);
  type Edit = (n: PlayedNote) => PlayedNote;
  const at = (list: readonly PlayedNote[], k: number, edit: Edit): PlayedNote[] =>
    list.map((n, x) => (x === k ? edit(n) : n));
  const timed =
    (from: number | null, by: number): Edit =>
    (n) => ({ ...n, onsetSec: Math.max(0, (from ?? n.onsetSec) + by * normal(next)) });
  const pitched =
    (to: (midi: number) => number): Edit =>
    (n) =>
      n.midi === undefined ? n : { ...n, midi: Math.max(20, Math.min(100, to(n.midi))) };
  const written = (list: PlayedNote[]): Partial<MarkRequest> => ({
    target: list.sort((a, b) => a.onsetSec - b.onsetSec),
  });
  const edits: readonly [number, () => Partial<MarkRequest>][] = [
    [0.35, () => ({ played: at(played, j, timed(null, size)) })],
    [0.15, () => ({ played: at(played, j, timed(other.onsetSec, 0.05 * size)) })],
    [
      0.15,
      () => ({
        played: at(
          played,
          j,
          pitched((x) => x + 12 * size * normal(next)),
        ),
      }),
    ],
    [
      0.05,
      () => ({
        played: at(
          played,
          j,
          pitched(() => target[i]!.midi!),
        ),
      }),
    ],
    [0.1, () => written(at(target, i, timed(null, size)))],
    [
      0.05,
      () =>
        written(
          at(
            target,
            i,
            pitched((x) => Math.round(x + 8 * normal(next))),
          ),
        ),
    ],
    [0.03, () => (played.length > 1 ? { played: played.filter((_, k) => k !== j) } : {})],
    [0.03, () => (target.length > 1 ? { target: target.filter((_, k) => k !== i) } : {})],
    [0.03, () => (played.length < most ? { played: [...played, timed(null, 0.1 * size)(other)] } : {})],
  ];
  let what = next();
  for (const [share, edit] of edits) {
    if (what < share) {
      const request = { ...change.request, ...edit() };
      const last = request.played.length - 1;
      const found: Change = {
        ...change,
        request,
        note: change.note === 'all' ? 'all' : Math.min(change.note, last),
      };
      return possible(found) ? found : change;
    }
    what -= share;
  }
  return { ...change, ...nudge(played.length, next) };
}

/** Now and then a worse change is gone on from, so that a climb does not end on a small hill. */
const WORSE = 0.002;

/** Climbs from a random take of up to `most` notes towards the change that moves the mark most. */
export function climb(
  seed: number,
  clock: Clock,
  steps: number,
  most = MOST_NOTES,
): { worst: Change; by: number } {
  const next = random(1 + seed * 7919);
  for (let k = 0; k < 3; k++) next();
  let now = start(clock, most, next);
  while (!possible(now)) now = start(clock, most, next);
  let by = moved(now);
  let [worst, highest] = [now, by];
  for (let k = 0; k < steps; k++) {
    const tried = mutate(now, most, next);
    if (tried === now) continue;
    const found = moved(tried);
    if (found > highest) [worst, highest] = [tried, found];
    if (found >= by || next() < WORSE) [now, by] = [tried, found];
  }
  return { worst, by: highest };
}

/** Changes of each climb, and climbs a clock: with few notes each is worth most, and marking them takes least. */
const STEPS = 400;
const FEW_NOTES = 5;
const CLIMBS = { few: 50, many: 10 };
/** 100,000 changes in all: half an hour and more. */
const CLIMBS_LONG = { few: 65, many: 60 };

/** Looks for a millisecond or a cent that is worth more than a mark, from ever worse takes. */
export function hostile(long: boolean): void {
  const climbs = long ? CLIMBS_LONG : CLIMBS;
  console.log(`\n## A search for the worst millisecond or cent (climbs of ${STEPS} changes)\n`);
  console.log('| notes | clock | climbs | over 1 mark | largest | of which |\n|---|---|---|---|---|---|');
  for (const [count, most] of [
    [climbs.few, FEW_NOTES],
    [climbs.many, MOST_NOTES],
  ] as const)
    for (const clock of ['backing', 'free'] as const) {
      const found = Array.from({ length: count }, (_, k) => climb(k + 1, clock, STEPS, most));
      const top = found.reduce((a, b) => (b.by > a.by ? b : a));
      const { request, note, ms, cents } = top.worst;
      console.log(
        `| up to ${most} | ${clock} | ${count} | ${found.filter((x) => x.by > 1 + 1e-6).length} | ` +
          `${top.by.toFixed(2)} | ${request.played.length} notes against ${request.target.length}, ` +
          `${request.transposition}, ${note === 'all' ? 'all' : 'one'} by ${ms ? `${ms} ms` : `${cents} cent`} |`,
      );
      for (const x of found)
        if (x.by > 1 + 1e-6 && process.env['TWOBAR_WORST'])
          console.log(JSON.stringify(x, (_, v: unknown) => (v === Infinity ? 1e4 : v)));
    }
}
