import type { ShapeFamily } from './chords/families.ts';
import type { Outcome } from './outcome.ts';
import type { ScaleEntry } from './scales.ts';
import type { Instrument } from './score.ts';
import type { Improvises, Shows, Task } from './task.ts';

/** What of a station's material is unseen: the candidate chooses between the two, or the setup has chosen. */
export type UnseenChoice = 'reading' | 'improvising';

/**
 * One station of a sitting with its settings. `weight` is the teacher's word on how much it counts, 0…100; a total is
 * told only where stations have one. 0: none was given.
 */
export type Station = { readonly weight: number } & (
  | { readonly what: 'sound' }
  /** Pieces of the player's own, by their recordings (`PieceTrack.id`); played in the order the candidate chooses. */
  | {
      readonly what: 'pieces';
      readonly pieces: readonly { readonly trackId: string; readonly title: string }[];
    }
  | {
      readonly what: 'scales';
      /** Of our list for this level, 1…10, where no list of one's own is given. */
      readonly level: number;
      readonly list: {
        readonly name: string;
        readonly instrument: Instrument;
        readonly entries: readonly ScaleEntry[];
      } | null;
      readonly count: number;
      readonly click: boolean;
    }
  | {
      readonly what: 'chords';
      /** A list of one's own, in place of kinds of shape; missing: those kinds. */
      readonly list?: {
        readonly name: string;
        readonly chords: readonly {
          readonly symbol: string;
          readonly frets: readonly (number | null)[] | null;
        }[];
      };
      readonly families: readonly ShapeFamily[];
      readonly how: 'named' | 'progression';
      readonly count: number;
      readonly voicing: 'shape' | 'any';
      readonly tempoBpm: number;
    }
  | {
      readonly what: 'unseen';
      readonly offers: UnseenChoice | 'both';
      readonly readingLevel: number;
      readonly shows: Shows;
      readonly click: boolean;
      /** Seconds to look at the page, and at the chart. */
      readonly readingSec: number;
      readonly improvisingLevel: number;
      readonly plays: Improvises;
      readonly improvisingSec: number;
    }
  | { readonly what: 'melody' | 'rhythm'; readonly level: number; readonly count: number }
  /** Questions on the music of a page; `level` is that of the page. */
  | { readonly what: 'questions'; readonly level: number; readonly count: number }
);
export type StationKind = Station['what'];
/** In our order: what is known by heart while the hands are fresh, the unseen next, the ear and words last. */
export const STATION_KINDS = [
  'sound',
  'pieces',
  'scales',
  'chords',
  'unseen',
  'melody',
  'rhythm',
  'questions',
] as const satisfies readonly StationKind[];

/** What a sitting is made of, as it was put together: plain data, kept under a name. */
export interface SittingSetup {
  readonly version: 1;
  readonly id: string;
  readonly name: string;
  readonly instrument: Instrument;
  /** Sounding MIDI numbers of the open strings, lowest first. */
  readonly tuning: readonly number[];
  /** In order. */
  readonly stations: readonly Station[];
}

/** What broke a station off. `closed`: the page was closed or loaded again in it; `left`: it was left by hand. */
export const FAULTS = [
  'hidden',
  'call',
  'microphone-unplugged',
  'context-suspended',
  'listener-failed',
  'unheard',
  'closed',
  'left',
] as const;
export type FaultReason = (typeof FAULTS)[number];

export interface Fault {
  readonly why: FaultReason;
  /** Device clock, ms since 1970. */
  readonly atMs: number;
}

/** One thing that was played or answered at a station. */
export interface Played {
  readonly kind: Task['kind'] | 'question';
  /** Its attempt in the record; null for a question, and where the record could not keep it. */
  readonly attemptId: string | null;
  /** The machine's, 0…100; null where it gives none. */
  readonly mark: number | null;
  readonly outcome: Outcome | null;
  /** Whether a question was answered rightly; null for what is played. */
  readonly right: boolean | null;
  /** The examiner's own mark, 0…100; null: none was given. */
  readonly own: number | null;
}

/** How a station went. */
export interface StationRun {
  /** How often it began anew after a fault: each time with other material. */
  readonly tries: number;
  readonly choice: UnseenChoice | null;
  /** Pieces by their place in the setup, in the order in which they were chosen. */
  readonly order: readonly number[];
  readonly played: readonly Played[];
  readonly faults: readonly Fault[];
  /** It was passed over. */
  readonly passed: boolean;
}

/**
 * A sitting under way or over. `before`: the page of a station or of its next item, nothing sounds; `under`: an item is
 * played or answered; `break`: between two stations.
 */
export interface SittingRun {
  readonly version: 1;
  readonly id: string;
  readonly setup: SittingSetup;
  /** Unsigned 32-bit; all material is drawn by it. */
  readonly seed: number;
  /** A teacher gives their own marks as it goes. */
  readonly examiner: boolean;
  readonly startedAtMs: number;
  /** Time gone, without breaks and without the time in which it was closed, ms. */
  readonly spentMs: number;
  /** When the running stretch of time began; null while no time goes. */
  readonly sinceMs: number | null;
  readonly phase: 'before' | 'under' | 'break' | 'over';
  /** Which station, counted from 0; the number of stations when it is over. */
  readonly at: number;
  /** What the cursor of the two keys stands on where there is a choice. */
  readonly pick: number;
  /** One a station of the setup. */
  readonly stations: readonly StationRun[];
}

/** Ids of the takes of a sitting, in the order in which they were played within each station. */
export const playedIn = ({ stations }: Pick<SittingRun, 'stations'>): string[] =>
  stations.flatMap(({ played }) => played.flatMap(({ attemptId }) => attemptId ?? []));
