import { describe, expect, it } from 'vitest';
import {
  FIRST_DRILL,
  asSounded,
  levelList,
  LEVELS,
  makeChords,
  makeImprovising,
  makeReading,
  makeScale,
  makeTest,
  readStanding,
  TUNINGS,
  wayOf,
  type Programme,
  type Task,
} from '../../../src/tests-engine/index.ts';

const { strings: tuning } = TUNINGS.find(({ id }) => id === 'guitar')!;
const melody = makeTest({ kind: 'melody', level: 3, seed: 7, instrument: 'guitar' });
const rhythm = makeTest({ kind: 'rhythm', level: 3, seed: 8, instrument: 'guitar' });
const chords = makeChords({ seed: 2, families: ['open'], how: 'named', voicing: 'shape', count: 4 });
const page = makeReading({ level: 2, seed: 3, instrument: 'guitar' });
const scale = makeScale({ named: levelList(3, 'guitar').entries[0]!, instrument: 'guitar' });

const chart = makeImprovising({ level: 5, seed: 4, instrument: 'guitar' });

const asked = { kind: 'melody', instrument: 'guitar', tuning } as const;
const PROGRAMMES: Readonly<Record<Programme['from'], Programme>> = {
  start: { from: 'start' },
  practice: { from: 'practice' },
  piece: { from: 'piece' },
  sitting: { from: 'sitting', sittingId: '0123456789abcdef0123456789abcdef' },
  like: { from: 'like', level: 4, ...asked },
  level: { from: 'level', level: LEVELS[4]!, ...asked },
  reading: { from: 'reading', level: 3, instrument: 'bass', shows: 'both', click: false, prepareSec: 60 },
  chords: {
    from: 'chords',
    ...{ families: ['open', 'slash'], how: 'progression', count: 8, voicing: 'any', tempoBpm: 84 },
    ...{ driven: true, key: { tonic: 'G', minor: false }, style: 'rock' },
    chords: [{ symbol: 'D/F#', frets: [2, null, 0, 2, 3, 2] }],
  },
  scales: { from: 'scales', list: levelList(3, 'bass'), level: 3, tuning, click: true },
  improvising: { from: 'improvising', level: 5, instrument: 'guitar', plays: 'line', prepareClick: true },
  drill: { from: 'drill', drill: FIRST_DRILL, instrument: 'guitar', tuning },
  list: { from: 'list', tasks: [melody, rhythm], at: 1 },
  homework: {
    from: 'homework',
    ...{ homeworkId: 'h', item: 2, thresholds: { there: 90, close: 70 } },
    question: { form: 'part', counts: 'always' },
  },
};

const overNight = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

describe('where a player stands', () => {
  it.each(Object.values(PROGRAMMES))('in $from is the same after a night on the disk', (programme) => {
    for (const task of [melody, rhythm, page, scale, chart, chords] satisfies Task[]) {
      const standing = { programme, task, manner: 'relaxed' as const, done: false };
      expect(readStanding(overNight(standing))).toEqual(overNight(standing));
    }
  });

  it('is nothing where what was kept is none of ours: of another version, or damaged', () => {
    const good = { programme: PROGRAMMES.list, task: melody, manner: 'strict', done: true };
    expect(readStanding(overNight(good))).not.toBeNull();
    const damaged: unknown[] = [
      ...[null, 3, 'list', [], {}],
      { ...good, programme: { from: 'exam' } },
      { ...good, programme: { from: 'toString' } },
      { ...good, programme: { ...PROGRAMMES.list, tasks: [] } },
      { ...good, programme: { ...PROGRAMMES.list, extra: 1 } },
      { ...good, programme: { ...PROGRAMMES.level, level: { ...LEVELS[4], metres: [] } } },
      { ...good, programme: { ...PROGRAMMES.reading, level: 11 } },
      { ...good, programme: { ...PROGRAMMES.chords, families: ['closed'] } },
      { ...good, programme: { ...PROGRAMMES.scales, list: { name: 'mine', entries: [] } } },
      { ...good, programme: { ...PROGRAMMES.homework, thresholds: { there: 50, close: 70 } } },
      { ...good, task: { ...melody, tempoBpm: 0 } },
      { ...good, manner: 'kind' },
    ];
    for (const one of damaged) expect(readStanding(overNight(one)), JSON.stringify(one)).toBeNull();
  });
});

describe('a take of a task that was set', () => {
  it('is of that task at any tempo and by halves, and says which', () => {
    for (const tempoFactor of [1, 0.75, 0.5])
      for (const half of [null, 'first', 'second'] as const) {
        const played = overNight(asSounded(melody, { tempoFactor, half })) as Task;
        const way = wayOf(melody, played);
        expect(way?.half).toBe(half);
        expect(way?.tempoFactor).toBeCloseTo(tempoFactor, 9);
      }
    expect(wayOf(page, page)).toEqual({ tempoFactor: 1, half: null });
  });

  it('is not of another: another seed, another kind, one note changed', () => {
    const [first, ...rest] = melody.phrase.notes;
    const changed = {
      ...melody,
      phrase: { ...melody.phrase, notes: [{ ...first!, midi: first!.midi + 1 }, ...rest] },
    };
    for (const other of [rhythm, page, { ...melody, seed: 9 }, changed as Task])
      expect(wayOf(melody, other)).toBeNull();
  });
});
