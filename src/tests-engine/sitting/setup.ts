import * as v from 'valibot';
import type { ShapeFamily } from '../../music/chords/families.ts';
import { firstIssue, sittingRun, sittingSetup } from '../../music/schema/index.ts';
import type { Instrument } from '../../music/score.ts';
import {
  STATION_KINDS,
  type SittingRun,
  type SittingSetup,
  type Station,
  type StationKind,
} from '../../music/sitting.ts';
import { LEVELS } from '../material/index.ts';
import { CHART_SEC, PREPARE_SEC } from '../tasks/index.ts';

/** What a setup of ours is made for. */
export interface SetupRequest {
  /** 1…10. */
  readonly level: number;
  readonly instrument: Instrument;
  readonly tuning: readonly number[];
  /** 32 hex digits. */
  readonly id: string;
  readonly name: string;
  readonly pieces?: readonly { readonly trackId: string; readonly title: string }[];
}

/** Kinds of shape that come with a level, the easiest first; ours, as the ladder of melodies is. */
const SHAPES: readonly (readonly [from: number, families: readonly ShapeFamily[]])[] = [
  [1, ['open']],
  [3, ['open', 'power']],
  [4, ['open', 'barre']],
  [6, ['barre', 'seventh']],
  [8, ['barre', 'seventh', 'extended']],
  [9, ['seventh', 'extended', 'slash']],
];
const shapesAt = (level: number): readonly ShapeFamily[] =>
  SHAPES.findLast(([from]) => from <= level)?.[1] ?? ['open'];

/** A station of a kind as it is first offered. */
export function newStation(
  what: StationKind,
  { level, pieces = [] }: Pick<SetupRequest, 'level' | 'pieces'>,
): Station {
  const weight = 0;
  switch (what) {
    case 'sound':
      return { what, weight };
    case 'pieces':
      return { what, weight, pieces: pieces.slice(0, 3) };
    case 'scales':
      return { what, weight, level, list: null, count: level < 4 ? 3 : 4, click: false };
    case 'chords':
      return {
        what,
        weight,
        families: shapesAt(level),
        how: 'named',
        count: 4,
        voicing: 'any',
        tempoBpm: 72,
      };
    case 'unseen':
      return {
        what,
        weight,
        offers: 'both',
        readingLevel: level,
        shows: 'staff',
        click: false,
        readingSec: PREPARE_SEC,
        improvisingLevel: level,
        plays: 'line',
        improvisingSec: CHART_SEC,
      };
    case 'melody':
    case 'rhythm':
      return { what, weight, level, count: 1 };
    case 'questions':
      return { what, weight, level, count: 5 };
  }
}

/** Whether a kind of station can be had on an instrument. Chords are asked of a guitar alone. */
export const canHave = (what: StationKind, { instrument }: { readonly instrument: Instrument }): boolean =>
  what !== 'chords' || instrument === 'guitar';

/** Our own default for a level; every number in it may be changed. @throws RangeError for no such level */
export function defaultSetup(request: SetupRequest): SittingSetup {
  const { level, instrument, tuning, id, name, pieces = [] } = request;
  if (!Number.isInteger(level) || level < 1 || level > LEVELS.length)
    throw new RangeError(`level must be 1…${LEVELS.length}, got ${level}`);
  const stations = STATION_KINDS.filter(
    (what) => canHave(what, request) && (what !== 'pieces' || pieces.length > 0),
  );
  return {
    version: 1,
    id,
    name,
    instrument,
    tuning,
    stations: stations.map((what) => newStation(what, request)),
  };
}

/** A setup from whatever was kept or given. @throws RangeError saying what does not fit */
export function parseSetup(value: unknown): SittingSetup {
  const parsed = v.safeParse(sittingSetup, value, { abortEarly: true });
  if (!parsed.success) throw new RangeError(`this is no sitting: ${firstIssue(parsed.issues)}`);
  return parsed.output;
}

/** A sitting from whatever was kept; null where it is none that this version knows. */
export function readSitting(value: unknown): SittingRun | null {
  const parsed = v.safeParse(sittingRun, value, { abortEarly: true });
  return parsed.success ? parsed.output : null;
}
