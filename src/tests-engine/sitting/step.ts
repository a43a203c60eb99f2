import type {
  FaultReason,
  Played,
  SittingRun,
  SittingSetup,
  Station,
  StationRun,
} from '../../music/sitting.ts';
import { LIMITS } from '../../music/schema/index.ts';
import { itemsAt, type Item } from './material.ts';

/** What happens to a sitting. */
export type SittingEvent =
  /** Page Down: begin what is shown; of a choice, take what the cursor stands on. */
  | { readonly type: 'goOn' }
  /** Page Up: where there is a choice the cursor goes on. */
  | { readonly type: 'switch' }
  /** What was begun is done: played and marked, or answered. */
  | { readonly type: 'done'; readonly played: Played | null }
  /** Something broke the station off. */
  | { readonly type: 'fault'; readonly why: FaultReason }
  /** The station is passed over. */
  | { readonly type: 'pass' }
  /** A break, between two stations. */
  | { readonly type: 'break' }
  /** The page was opened again, after a crash or on another day. */
  | { readonly type: 'takenUp' }
  /** The examiner's own mark for what was played last, or for the place given. */
  | { readonly type: 'own'; readonly station: number; readonly item: number; readonly mark: number | null }
  /** The whole is broken off. */
  | { readonly type: 'end' };

const FRESH: StationRun = { tries: 0, choice: null, order: [], played: [], faults: [], passed: false };

/** A sitting that stands before its first station. No time goes until its first page is left. */
export function startSitting(
  setup: SittingSetup,
  given: { readonly id: string; readonly seed: number; readonly atMs: number; readonly examiner?: boolean },
): SittingRun {
  return {
    version: 1,
    id: given.id,
    setup,
    seed: given.seed,
    examiner: given.examiner ?? false,
    startedAtMs: given.atMs,
    spentMs: 0,
    sinceMs: null,
    phase: 'before',
    at: 0,
    pick: 0,
    stations: setup.stations.map(() => FRESH),
  };
}

/** The station at which it stands, and how it has gone there; null when it is over. */
export function stationNow(
  run: SittingRun,
): { readonly station: Station; readonly run: StationRun; readonly items: readonly Item[] } | null {
  const station = run.setup.stations[run.at];
  const own = run.stations[run.at];
  return station && own ? { station, run: own, items: itemsAt(run, run.at, own) } : null;
}

/** Whether the candidate is to choose now, and among how many. 0: there is nothing to choose. */
export function choices(run: SittingRun): number {
  const now = run.phase === 'before' ? stationNow(run) : null;
  if (!now) return 0;
  const { station, run: own } = now;
  if (station.what === 'unseen') return station.offers === 'both' && own.choice === null ? 2 : 0;
  if (station.what !== 'pieces') return 0;
  const left = station.pieces.length - own.order.length;
  return own.order.length > own.played.length ? 0 : left > 1 ? left : 0;
}

/** Pieces not chosen yet, by their place in the setup. */
export const piecesLeft = (pieces: number, { order }: Pick<StationRun, 'order'>): number[] =>
  Array.from({ length: pieces }, (_, i) => i).filter((i) => !order.includes(i));

/** What is begun, or under way, now; null before a choice, in a break, and at the end. */
export function itemNow(run: SittingRun): Item | null {
  const now = stationNow(run);
  if (!now || run.phase === 'break') return null;
  const place = now.run.played.length;
  if (now.station.what === 'pieces') return now.items[now.run.order[place] ?? -1] ?? null;
  return now.items[place] ?? null;
}

/** A break may be taken before a station has begun, when one lies behind. */
export const mayBreak = (run: SittingRun): boolean => {
  const own = run.stations[run.at];
  return run.phase === 'before' && run.at > 0 && own !== undefined && own.played.length === 0;
};

/** ms of the sitting gone by `atMs`; a clock that was set back takes nothing away. */
export const spentAt = ({ spentMs, sinceMs }: SittingRun, atMs: number): number =>
  spentMs + (sinceMs === null ? 0 : Math.max(0, atMs - sinceMs));

const withStation = (run: SittingRun, change: Partial<StationRun>): SittingRun => ({
  ...run,
  stations: run.stations.map((one, i) => (i === run.at ? { ...one, ...change } : one)),
});

/** The time up to now is taken in, and goes on or stands still. */
const clocked = (run: SittingRun, atMs: number, goes: boolean): SittingRun => ({
  ...run,
  spentMs: Math.round(spentAt(run, atMs)),
  sinceMs: goes ? Math.max(0, Math.round(atMs)) : null,
});

/** On to the next station, or to the end. */
function onward(run: SittingRun): SittingRun {
  const at = run.at + 1;
  return at < run.setup.stations.length
    ? { ...run, at, pick: 0, phase: 'before' }
    : { ...run, at, pick: 0, phase: 'over', sinceMs: null };
}

/** What the setup has chosen already, or the only piece that is left. */
function begun(run: SittingRun): SittingRun {
  const { station, run: own } = stationNow(run)!;
  if (station.what === 'unseen' && own.choice === null) {
    const chosen = station.offers === 'both' ? (run.pick === 0 ? 'reading' : 'improvising') : station.offers;
    return withStation(run, { choice: chosen });
  }
  if (station.what === 'pieces' && own.order.length === own.played.length) {
    const left = piecesLeft(station.pieces.length, own);
    return withStation(run, { order: [...own.order, left[run.pick] ?? left[0]!] });
  }
  return run;
}

function goOn(run: SittingRun, atMs: number): SittingRun {
  if (run.phase === 'break') return { ...clocked(run, atMs, true), phase: 'before' };
  if (run.phase !== 'before') return run;
  const chosen = begun(clocked(run, atMs, true));
  // A station whose list gives nothing on this instrument has nothing to wait for.
  return itemNow(chosen) === null ? onward(chosen) : { ...chosen, pick: 0, phase: 'under' };
}

function done(run: SittingRun, played: Played | null, atMs: number): SittingRun {
  if (run.phase !== 'under') return run;
  const own = run.stations[run.at]!;
  const list = played ? [...own.played, played] : own.played;
  const next = withStation(clocked(run, atMs, true), { played: list });
  const count = stationNow(next)!.items.length;
  return played && list.length < count ? { ...next, phase: 'before' } : onward(next);
}

/**
 * A fault costs nothing and is noted: the station begins afresh, with other material. Of pieces there are no others:
 * the one that was under way is played again.
 */
function fault(run: SittingRun, why: FaultReason, atMs: number): SittingRun {
  if (run.phase !== 'under') return run;
  const own = run.stations[run.at]!;
  const noted = [...own.faults, { why, atMs: Math.round(atMs) }].slice(-LIMITS.stationTries[1]);
  const pieces = run.setup.stations[run.at]!.what === 'pieces';
  const tries = Math.min(LIMITS.stationTries[1], own.tries + 1);
  const fresh = pieces ? { faults: noted } : { faults: noted, tries, played: [] };
  return { ...withStation(clocked(run, atMs, true), fresh), phase: 'before', pick: 0 };
}

/** Time in which it was closed is not its time: it goes on from now, where it went. */
function takenUp(run: SittingRun, atMs: number): SittingRun {
  if (run.phase === 'over') return run;
  const here = { ...run, sinceMs: run.sinceMs === null ? null : Math.round(atMs) };
  return fault(here, 'closed', atMs);
}

function ownMark(
  run: SittingRun,
  { station, item, mark }: Extract<SittingEvent, { type: 'own' }>,
): SittingRun {
  if (mark !== null && !(mark >= 0 && mark <= 100))
    throw new RangeError(`an examiner's mark lies within 0…100, got ${mark}`);
  return {
    ...run,
    stations: run.stations.map((one, s) =>
      s !== station
        ? one
        : { ...one, played: one.played.map((each, i) => (i === item ? { ...each, own: mark } : each)) },
    ),
  };
}

/**
 * A sitting after an event at `atMs` (device clock, ms since 1970). Pure; what makes no sense now changes nothing, so
 * that a key pressed twice does no harm.
 */
export function sit(run: SittingRun, event: SittingEvent, atMs: number): SittingRun {
  switch (event.type) {
    case 'own':
      return ownMark(run, event);
    case 'takenUp':
      return takenUp(run, atMs);
    case 'goOn':
      return goOn(run, atMs);
    case 'switch': {
      const among = choices(run);
      return among > 0 ? { ...run, pick: (run.pick + 1) % among } : run;
    }
    case 'done':
      return done(run, event.played, atMs);
    case 'fault':
      return fault(run, event.why, atMs);
    case 'pass':
      return run.phase === 'over' || run.phase === 'break'
        ? run
        : onward(withStation(clocked(run, atMs, true), { passed: true }));
    case 'break':
      return mayBreak(run) ? { ...clocked(run, atMs, false), phase: 'break' } : run;
    case 'end':
      return run.phase === 'over'
        ? run
        : {
            ...clocked(run, atMs, false),
            stations: run.stations.map((one, i) =>
              i >= run.at && !isComplete(run, i) ? { ...one, passed: true } : one,
            ),
            phase: 'over',
            at: run.setup.stations.length,
            pick: 0,
          };
  }
}

/** Whether everything that a station asks for was played. */
export function isComplete(run: SittingRun, at: number): boolean {
  const own = run.stations[at];
  const station = run.setup.stations[at];
  if (!own || !station) return false;
  if (station.what === 'sound') return run.at > at;
  return own.played.length > 0 && own.played.length >= itemsAt(run, at, own).length;
}
