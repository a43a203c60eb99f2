import { isDrill, FIRST_DRILL } from '../../tests-engine/index.ts';
import { LANGUAGES, languageOf } from '../messages.ts';
import { CHORD_TONICS, SHAPE_FAMILIES } from '../../tests-engine/index.ts';
import { QUESTION_FORMS } from '../../music/question.ts';
import type { PositionName } from '../../tests-engine/index.ts';
import type { Settings } from './types.ts';

export const DEFAULTS: Settings = {
  instrument: 'guitar',
  tuningId: 'guitar',
  deviceId: null,
  channel: 'louder',
  output: 'speakers',
  theme: 'auto',
  language: languageOf(globalThis.navigator?.languages),
  noteNames: 'auto',
  noteValues: 'quaver',
  mirroredTab: false,
  count: 'spoken',
  checked: false,
  kind: 'melody',
  level: 1,
  key: null,
  manner: 'strict',
  volume: { backingDb: 0, melodyDb: 0 },
  position: null,
  question: 'which',
  drill: FIRST_DRILL,
  reading: { level: 1, shows: 'staff', click: true, prepareClick: true, ahead: false },
  scales: { list: 'level 1', click: true, said: false },
  improvising: { level: 1, plays: 'line', prepareClick: false },
  chords: {
    how: 'named',
    families: ['open'],
    key: null,
    voicing: 'shape',
    count: 8,
    tempoBpm: 72,
    over: 'click',
    driven: false,
  },
};

type Checks = { readonly [Key in keyof Settings]: (value: unknown) => boolean };

const oneOf =
  (...values: readonly unknown[]) =>
  (value: unknown): boolean =>
    values.includes(value);
const shortText = (value: unknown): boolean =>
  typeof value === 'string' && value.length > 0 && value.length <= 200;
const whole =
  (lowest: number, highest: number) =>
  (value: unknown): boolean =>
    Number.isInteger(value) && (value as number) >= lowest && (value as number) <= highest;

const isKey = (value: unknown): boolean => {
  const { tonic, scale } = (value ?? {}) as { tonic?: unknown; scale?: unknown };
  return typeof tonic === 'string' && /^[A-G][#b]?$/.test(tonic) && shortText(scale);
};

const isReading = (value: unknown): boolean => {
  const { level, shows, click, prepareClick, ahead, prepareSec } = (value ?? {}) as Record<string, unknown>;
  return (
    whole(1, 10)(level) &&
    oneOf('staff', 'both', 'tab')(shows) &&
    [click, prepareClick, ahead ?? false].every(oneOf(true, false)) &&
    (prepareSec === undefined || whole(0, 600)(prepareSec))
  );
};

const isVolume = (value: unknown): boolean => {
  const { backingDb, melodyDb } = (value ?? {}) as Record<string, unknown>;
  return [backingDb, melodyDb].every(whole(-18, 6));
};
/** As `POSITIONS` of the material, which is not fetched with the first page for its names alone. */
export const POSITION_NAMES = [
  'open',
  'II',
  'V',
  'VII',
  'XII',
  'any',
] as const satisfies readonly PositionName[];

const FAMILIES: readonly unknown[] = SHAPE_FAMILIES;

const isChords = (value: unknown): boolean => {
  const { how, families, key, voicing, count, tempoBpm, over, driven } = (value ?? {}) as Record<
    string,
    unknown
  >;
  const { tonic, minor } = (key ?? {}) as Record<string, unknown>;
  return (
    oneOf('named', 'progression')(how) &&
    Array.isArray(families) &&
    families.length > 0 &&
    families.every((one) => FAMILIES.includes(one)) &&
    (key === null || (oneOf(...CHORD_TONICS)(tonic) && oneOf(true, false)(minor))) &&
    oneOf('shape', 'any')(voicing) &&
    whole(1, 32)(count) &&
    whole(30, 240)(tempoBpm) &&
    oneOf('click', 'band')(over) &&
    oneOf(true, false)(driven)
  );
};

const isScales = (value: unknown): boolean => {
  const { list, click, said } = (value ?? {}) as Record<string, unknown>;
  return shortText(list) && [click, said].every(oneOf(true, false));
};

const isImprovising = (value: unknown): boolean => {
  const { level, plays, prepareClick } = (value ?? {}) as Record<string, unknown>;
  return whole(1, 10)(level) && oneOf('line', 'chords')(plays) && oneOf(true, false)(prepareClick);
};

const CHECKS: Checks = {
  instrument: oneOf('guitar', 'bass'),
  tuningId: shortText,
  deviceId: (value) => value === null || shortText(value),
  channel: (value) => value === 'louder' || whole(0, 63)(value),
  output: oneOf('speakers', 'headphones'),
  theme: oneOf('auto', 'light', 'dark'),
  language: oneOf(...Object.keys(LANGUAGES)),
  noteNames: oneOf('auto', 'english', 'german', 'do'),
  noteValues: oneOf('quaver', 'eighth'),
  mirroredTab: oneOf(true, false),
  count: oneOf('spoken', 'click'),
  checked: oneOf(true, false),
  kind: oneOf('melody', 'rhythm'),
  level: whole(1, 10),
  key: (value) => value === null || isKey(value),
  manner: oneOf('strict', 'relaxed'),
  volume: isVolume,
  improvising: isImprovising,
  position: (value) => value === null || oneOf(...POSITION_NAMES)(value),
  question: oneOf(...QUESTION_FORMS),
  drill: isDrill,
  reading: isReading,
  chords: isChords,
  scales: isScales,
};

/** Settings from what was kept: a value that does not fit its place gives way to the default, alone. */
export function checkedSettings(kept: unknown): Settings {
  const from = typeof kept === 'object' && kept !== null ? (kept as Record<string, unknown>) : {};
  const good = (Object.keys(DEFAULTS) as (keyof Settings)[]).filter((key) => CHECKS[key](from[key]));
  return { ...DEFAULTS, ...Object.fromEntries(good.map((key) => [key, from[key]])) };
}
