import * as v from 'valibot';
import {
  id,
  instrument,
  list,
  LIMITS,
  manner,
  number,
  questionSet,
  soundedTask,
  thresholds,
  whole,
} from '../../music/schema/index.ts';
import type { Task } from '../../music/task.ts';
import { STYLES } from '../../music/styles.ts';
import { CHORD_TONICS, chordEntries, parseLevel, scaleList, SHAPE_FAMILIES } from '../material/index.ts';
import { drillPlayer, drillSchema } from './drillSchema.ts';
import type { Manner } from '../procedure/index.ts';
import type { Programme } from './programme.ts';

/** Where a player stands in a programme: kept, so that a page that was closed can go on. */
export interface Standing {
  readonly programme: Programme;
  /** The task begun last. */
  readonly task: Task;
  readonly manner: Manner;
  /** It was played to its end: what comes after it is next. Else it is next itself. */
  readonly done: boolean;
}

const isLevel = (value: unknown): boolean => {
  try {
    parseLevel(value);
    return true;
  } catch {
    return false;
  }
};

const level = whole(LIMITS.level);
const asked = {
  kind: v.picklist(['melody', 'rhythm']),
  instrument,
  tuning: list(whole(LIMITS.openStringMidi), LIMITS.strings),
};
const item = whole([0, 1000]);

/** One schema a source of tasks; the compiler asks for that of a new one. */
const PROGRAMMES = {
  start: v.strictObject({ from: v.literal('start') }),
  practice: v.strictObject({ from: v.literal('practice') }),
  piece: v.strictObject({ from: v.literal('piece') }),
  sitting: v.strictObject({ from: v.literal('sitting'), sittingId: id }),
  like: v.strictObject({ from: v.literal('like'), level, ...asked }),
  level: v.strictObject({ from: v.literal('level'), level: v.custom(isLevel), ...asked }),
  reading: v.strictObject({
    from: v.literal('reading'),
    level,
    instrument,
    tuning: v.exactOptional(asked.tuning),
    shows: v.exactOptional(v.picklist(['both', 'staff', 'tab'])),
    click: v.exactOptional(v.boolean()),
    prepareClick: v.exactOptional(v.boolean()),
    prepareSec: v.exactOptional(number(LIMITS.practiceSec)),
  }),
  chords: v.strictObject({
    from: v.literal('chords'),
    families: list(v.picklist(SHAPE_FAMILIES), [1, SHAPE_FAMILIES.length]),
    how: v.picklist(['named', 'progression']),
    count: whole([1, 32]),
    voicing: v.picklist(['shape', 'any']),
    tempoBpm: v.exactOptional(number(LIMITS.tempoBpm)),
    driven: v.exactOptional(v.boolean()),
    key: v.exactOptional(v.strictObject({ tonic: v.picklist(CHORD_TONICS), minor: v.boolean() })),
    style: v.exactOptional(v.picklist(STYLES)),
    said: v.exactOptional(v.boolean()),
    chords: v.exactOptional(chordEntries),
  }),
  scales: v.strictObject({
    from: v.literal('scales'),
    list: v.custom((value) => scaleList(value) !== null),
    level: v.nullable(level),
    tuning: asked.tuning,
    click: v.boolean(),
  }),
  improvising: v.strictObject({
    from: v.literal('improvising'),
    level,
    instrument,
    tuning: v.exactOptional(asked.tuning),
    plays: v.exactOptional(v.picklist(['line', 'chords'])),
    prepareClick: v.exactOptional(v.boolean()),
    prepareSec: v.exactOptional(number(LIMITS.practiceSec)),
    tempoBpm: v.exactOptional(number(LIMITS.tempoBpm)),
    style: v.exactOptional(v.picklist(STYLES)),
  }),
  drill: v.strictObject({ from: v.literal('drill'), drill: drillSchema, ...drillPlayer }),
  list: v.strictObject({ from: v.literal('list'), tasks: list(soundedTask, [1, 200]), at: item }),
  homework: v.strictObject({
    from: v.literal('homework'),
    homeworkId: v.pipe(v.string(), v.maxLength(100)),
    item,
    thresholds: v.nullable(thresholds),
    question: v.exactOptional(questionSet),
  }),
} satisfies Record<Programme['from'], v.GenericSchema>;

const standing = v.strictObject({
  programme: v.lazy((value) => {
    const from = (value as { from?: unknown } | null)?.from;
    return typeof from === 'string' && Object.hasOwn(PROGRAMMES, from)
      ? PROGRAMMES[from as Programme['from']]
      : v.never();
  }),
  task: soundedTask,
  manner,
  done: v.boolean(),
});

/** A standing from whatever was kept; null where it is none that this version knows. */
export function readStanding(kept: unknown): Standing | null {
  const parsed = v.safeParse(standing, kept, { abortEarly: true });
  return parsed.success ? (parsed.output as unknown as Standing) : null;
}
