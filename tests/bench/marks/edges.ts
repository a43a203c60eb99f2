import { kindest, markOf, prepare } from '../../../src/tests-engine/marks/prepare.ts';
import type { Clock, MarkRequest, PlayedNote, Transposition } from '../../../src/tests-engine/index.ts';
import { random } from './stats.ts';

/** Takes of each sort and clock; the long way, 24,000 changes in all would show one jump in some thousands. */
const EACH = 1000;
const EACH_LONG = 4000;
const GRID_SEC = 0.15;

type Next = () => number;
type Lists = Pick<MarkRequest, 'target' | 'played'>;
const normal = (next: Next): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
const one = <T>(list: readonly T[], next: Next): T => list[Math.floor(next() * list.length)]!;

function phrase(next: Next): PlayedNote[] {
  let at = 0;
  return Array.from({ length: 4 + Math.floor(next() * 11) }, () => {
    const note = { onsetSec: at, midi: 48 + Math.floor(next() * 25) };
    at += one([1, 2, 2, 2, 3, 4], next) * GRID_SEC;
    return note;
  });
}
const inOrder = (list: PlayedNote[]): PlayedNote[] => list.sort((a, b) => a.onsetSec - b.onsetSec);

/** A hand at its own tempo: uneven, drifting, with pauses, wrong, missed and extra notes, now and then in another key. */
function handLike(next: Next): Lists {
  const target = phrase(next);
  const [sd, wrong, missed, extra] = [0.01 + 0.05 * next(), 0.4 * next(), 0.25 * next(), 0.25 * next()];
  const [rate, drift] = [2 ** (next() - 0.5), (next() - 0.5) * 0.1];
  const key = next() < 0.5 ? Math.floor(next() * 24) - 12 : 0;
  let pause = 0;
  const played = target.flatMap(({ onsetSec, midi }) => {
    if (next() < 0.06) pause += (next() - 0.3) * 0.6;
    if (next() < missed) return [];
    const at = onsetSec * (1 + drift * onsetSec) * rate + pause;
    const pitch = midi! + key + 0.15 * normal(next);
    const note = {
      onsetSec: at + sd * normal(next),
      midi: pitch + (next() < wrong ? one([1, -1, 2, 12], next) : 0),
    };
    return next() < extra
      ? [note, { onsetSec: at + GRID_SEC * next(), midi: pitch + one([-4, 3], next) }]
      : [note];
  });
  return { target, played: inOrder(played.length ? played : [target[0]!]) };
}
/** Up to 120 ms off, one note in three wrong or left out. */
function careless(next: Next): Lists {
  const target = phrase(next);
  const played = target
    .filter((_, k) => k === 0 || next() > 0.2)
    .map(({ onsetSec, midi }) => ({
      onsetSec: onsetSec + (next() - 0.5) * 0.24,
      midi: midi! + one([0, 0, 0, 0, 1, -2, 12], next),
    }));
  return { target, played: inOrder(played) };
}
/** Notes that have nothing to do with the phrase. */
function wild(next: Next): Lists {
  const target = phrase(next);
  const span = target[target.length - 1]!.onsetSec * (0.5 + next());
  return {
    target,
    played: inOrder(
      Array.from({ length: 3 + Math.floor(next() * 14) }, () => ({
        onsetSec: next() * span,
        midi: 45 + 30 * next(),
      })),
    ),
  };
}

/** A millisecond or a cent more on one note or on all. */
function nudged(played: readonly PlayedNote[], next: Next): PlayedNote[] {
  const k = Math.floor(next() * played.length);
  const every = next() < 0.2;
  const [ms, cents] = next() < 0.7 ? [one([-1, 1], next), 0] : [0, one([-1, 1], next)];
  return played.map((n, j) =>
    every || j === k
      ? {
          ...n,
          onsetSec: n.onsetSec + ms / 1000,
          ...(n.midi === undefined ? {} : { midi: n.midi + cents / 100 }),
        }
      : n,
  );
}

/** How far a millisecond or a cent moves the (unrounded) mark at most, whatever is played. */
export function edges(long: boolean): void {
  const each = long ? EACH_LONG : EACH;
  console.log('\n## One millisecond or one cent more\n\n| takes | clock | changes | over 1 mark | largest |');
  console.log('|---|---|---|---|---|');
  const mark = (request: MarkRequest): number => markOf(kindest(prepare(request), () => 1));
  for (const [name, make] of Object.entries({ 'hand-like': handLike, careless, wild }))
    for (const clock of ['backing', 'free'] as const satisfies readonly Clock[]) {
      let over = 0;
      let largest = 0;
      for (let take = 0; take < each; take++) {
        const next = random(1 + take * 7919);
        for (let k = 0; k < 3; k++) next();
        const both = make(next);
        const bare = (list: readonly PlayedNote[]): readonly PlayedNote[] =>
          take % 3 === 0 ? list.map(({ onsetSec }) => ({ onsetSec })) : list;
        const request: MarkRequest = {
          target: bare(both.target),
          played: bare(both.played),
          clock,
          transposition: one<Transposition>(['none', 'octave', 'any'], next),
          latencyUncertaintyMs: one([0, 0, 30, Infinity], next),
        };
        const by = Math.abs(mark(request) - mark({ ...request, played: nudged(request.played, next) }));
        largest = Math.max(largest, by);
        if (by > 1 + 1e-6) over++;
      }
      console.log(`| ${name} | ${clock} | ${each} | ${over} | ${largest.toFixed(2)} |`);
    }
}
