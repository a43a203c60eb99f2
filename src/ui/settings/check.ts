import * as v from 'valibot';
import { LANGUAGES, languageOf, type Language } from '../firstMessages.ts';
import {
  CHORD_TONICS,
  FIRST_DRILL,
  isDrill,
  POSITIONS,
  SHAPE_FAMILIES,
  type Drill,
  type PositionName,
} from '../../tests-engine/index.ts';
import { LIMITS } from '../../music/schema/limits.ts';
import { QUESTION_FORMS } from '../../music/question.ts';
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

const yes = v.boolean();
const shortText = v.pipe(v.string(), v.minLength(1), v.maxLength(200));
const whole = (lowest: number, highest: number) =>
  v.pipe(v.number(), v.integer(), v.minValue(lowest), v.maxValue(highest));
const key = v.object({ tonic: v.pipe(v.string(), v.regex(/^[A-G][#b]?$/)), scale: shortText });
const gain = whole(-18, 6);

/** What each setting may be. */
const FORMS = {
  instrument: v.picklist(['guitar', 'bass']),
  tuningId: shortText,
  deviceId: v.nullable(shortText),
  channel: v.union([v.literal('louder'), whole(0, 63)]),
  output: v.picklist(['speakers', 'headphones']),
  theme: v.picklist(['auto', 'light', 'dark']),
  language: v.picklist(Object.keys(LANGUAGES) as Language[]),
  noteNames: v.picklist(['auto', 'english', 'german', 'do']),
  noteValues: v.picklist(['quaver', 'eighth']),
  mirroredTab: yes,
  count: v.picklist(['spoken', 'click']),
  checked: yes,
  kind: v.picklist(['melody', 'rhythm']),
  level: whole(1, 10),
  key: v.nullable(key),
  manner: v.picklist(['strict', 'relaxed']),
  volume: v.object({ backingDb: gain, melodyDb: gain }),
  position: v.nullable(v.picklist(Object.keys(POSITIONS) as PositionName[])),
  question: v.picklist(QUESTION_FORMS),
  drill: v.custom<Drill>(isDrill),
  reading: v.object({
    level: whole(1, 10),
    shows: v.picklist(['staff', 'both', 'tab']),
    click: yes,
    prepareClick: yes,
    ahead: v.exactOptional(yes),
    prepareSec: v.exactOptional(whole(0, 600)),
  }),
  scales: v.object({ list: shortText, click: yes, said: yes }),
  improvising: v.object({ level: whole(1, 10), plays: v.picklist(['line', 'chords']), prepareClick: yes }),
  chords: v.object({
    how: v.picklist(['named', 'progression']),
    families: v.pipe(v.array(v.picklist(SHAPE_FAMILIES)), v.minLength(1)),
    key: v.nullable(v.object({ tonic: v.picklist(CHORD_TONICS), minor: yes })),
    voicing: v.picklist(['shape', 'any']),
    count: whole(1, 32),
    tempoBpm: whole(...LIMITS.tempoBpm),
    over: v.picklist(['click', 'band']),
    driven: yes,
    said: v.exactOptional(yes),
    list: v.exactOptional(v.nullable(shortText)),
  }),
} as const satisfies { readonly [Key in keyof Settings]: v.GenericSchema<unknown, unknown> };

/** Settings from what was kept: a value that does not fit its place gives way to the default, alone. */
export function checkedSettings(kept: unknown): Settings {
  const from = typeof kept === 'object' && kept !== null ? (kept as Record<string, unknown>) : {};
  const fit = Object.entries(FORMS).flatMap(([name, form]) => {
    const read = v.safeParse(form, from[name]);
    return read.success ? [[name, read.output] as const] : [];
  });
  return { ...DEFAULTS, ...Object.fromEntries(fit) };
}
