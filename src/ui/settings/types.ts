import type { Language } from '../messages.ts';
import type { Instrument, Key, TestKind } from '../../music/score.ts';

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
  /** The hearing caution was read and the sound check gone through. */
  readonly checked: boolean;
  readonly kind: TestKind;
  readonly level: number;
  /** null: any key. */
  readonly key: Key | null;
  readonly manner: Manner;
  readonly reading: {
    readonly level: number;
    readonly shows: 'staff' | 'both';
    readonly click: boolean;
    readonly prepareClick: boolean;
  };
}

/** Where settings are kept. */
export interface SettingsKeeper {
  /** What was kept, unchecked; null when there is nothing. */
  read(): Promise<unknown>;
  write(settings: Settings): Promise<void>;
}
