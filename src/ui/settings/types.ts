import type { Drill } from '../../tests-engine/index.ts';
import type { Language, NoteValues } from '../messages.ts';
import type { NoteNames } from '../noteNames.ts';
import type { Balance } from '../../audio/types.ts';
import type { ShapeFamily } from '../../tests-engine/index.ts';
import type { Shows } from '../../music/task.ts';
import type { QuestionForm } from '../../music/question.ts';
import type { Instrument, Key, TestKind } from '../../music/score.ts';
import type { PositionName } from '../../tests-engine/index.ts';

export type Theme = 'auto' | 'light' | 'dark';
export type Output = 'speakers' | 'headphones';
export type Manner = 'strict' | 'relaxed';

/** What the app remembers between visits. */
export interface Settings {
  readonly instrument: Instrument;
  /** Name of a tuning in `tests-engine`'s table. */
  readonly tuningId: string;
  /** null: the usual microphone. */
  readonly deviceId: string | null;
  readonly channel: number | 'louder';
  readonly output: Output;
  readonly theme: Theme;
  readonly language: Language;
  /** auto: as usual in the language. */
  readonly noteNames: NoteNames | 'auto';
  readonly noteValues: NoteValues;
  /** TAB with the lowest string on top. */
  readonly mirroredTab: boolean;
  /** How the count is given. */
  readonly count: 'spoken' | 'click';
  /** The hearing caution was read and the sound check gone through. */
  readonly checked: boolean;
  readonly kind: TestKind;
  readonly level: number;
  /** null: any key. */
  readonly key: Key | null;
  readonly manner: Manner;
  /** How much louder or softer than mixed, dB; see `Balance`. */
  readonly volume: Balance;
  readonly improvising: {
    readonly level: number;
    readonly plays: 'line' | 'chords';
    readonly prepareClick: boolean;
  };
  /** Where the hand is to be in a melody; null: where the level has it. */
  readonly position: PositionName | null;
  /** How a rhythm is asked about with help; as in an exam it is always which of two. */
  readonly question: QuestionForm;
  /** The drill chosen last. */
  readonly drill: Drill;
  readonly reading: {
    readonly level: number;
    readonly shows: Shows;
    readonly click: boolean;
    readonly prepareClick: boolean;
    /** Relaxed: the bar being played is covered, so that the eye is in the next one. */
    readonly ahead?: boolean;
    /** Time to look at the page, s; absent: as usual. */
    readonly prepareSec?: number;
  };
  readonly scales: {
    /** "level 4": one of our lists; else the id of an own one. */
    readonly list: string;
    readonly click: boolean;
    /** The name is said as well as shown. */
    readonly said: boolean;
  };
  readonly chords: {
    readonly how: 'named' | 'progression';
    readonly families: readonly ShapeFamily[];
    /** null: any key. */
    readonly key: { readonly tonic: string; readonly minor: boolean } | null;
    readonly voicing: 'shape' | 'any';
    readonly count: number;
    readonly tempoBpm: number;
    readonly over: 'click' | 'band';
    readonly driven: boolean;
    /** Names are said as well as shown; absent: no. */
    readonly said?: boolean;
    /** Id of an own list that is asked in place of kinds and key; null or absent: none. */
    readonly list?: string | null;
  };
}

/** Where settings are kept. */
export interface SettingsKeeper {
  /** What was kept, unchecked; null when there is nothing. */
  read(): Promise<unknown>;
  write(settings: Settings): Promise<void>;
  /** Calls back with what another tab has written, unchecked; the answer ends it. */
  watch?(changed: (kept: unknown) => void): () => void;
}
