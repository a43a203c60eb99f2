import { XMLParser, XMLValidator } from 'fast-xml-parser';
import { read } from 'midifile-ts';
import { describe, expect, it } from 'vitest';
import { testToMidi, testToMusicXml } from '../../../src/exchange/index.ts';
import { barTicks } from '../../../src/music/metre.ts';
import { performedSec } from '../../../src/music/time.ts';
import type { ReadingTask, ScaleTask } from '../../../src/music/task.ts';
import { levelList, makeReading, makeScale } from '../../../src/tests-engine/index.ts';

/** Pages to read and scales as files of notes, read by libraries that know nothing of ours. */
const INSTRUMENTS = ['guitar', 'bass'] as const;
const pages: ReadingTask[] = Array.from({ length: 10 }, (_, i) => i + 1).flatMap((level) =>
  INSTRUMENTS.flatMap((instrument) =>
    [1, 2, 3].map((seed) => makeReading({ level, seed: 100 * level + seed, instrument })),
  ),
);
const scales: ScaleTask[] = Array.from({ length: 10 }, (_, i) => i + 1).flatMap((level) =>
  INSTRUMENTS.flatMap((instrument) =>
    levelList(level, instrument)
      .entries.slice(0, 3)
      .map((named) => makeScale({ named, instrument, level, seed: level })),
  ),
);
const nameOf = ({ kind, instrument, level, seed }: ReadingTask | ScaleTask): string =>
  `${kind} ${instrument} level ${level} seed ${seed}`;

const list = <T>(value: T | T[] | undefined): T[] =>
  value === undefined ? [] : Array.isArray(value) ? value : [value];
const parser = new XMLParser({
  ignoreAttributes: false,
  attributeNamePrefix: '',
  isArray: (name) => name === 'measure' || name === 'direction',
});
const partOf = (task: ReadingTask | ScaleTask) =>
  parser.parse(testToMusicXml(task))['score-partwise'].part as { measure: any[] };
/** Notes of the staff (1) or the TAB (2). */
const notesOf = (measure: any, staff: number): any[] =>
  list<any>(measure.note).filter((note) => note.staff === staff);

describe('pages and scales as MusicXML', () => {
  it('are well formed, and every bar adds up on the staff and on the TAB', () => {
    for (const task of [...pages, ...scales]) {
      expect(XMLValidator.validate(testToMusicXml(task)), nameOf(task)).toBe(true);
      const { measure } = partOf(task);
      expect(measure, nameOf(task)).toHaveLength(task.phrase.bars);
      for (const one of measure)
        for (const staff of [1, 2])
          expect(
            notesOf(one, staff).reduce((sum, { duration }) => sum + duration, 0),
            nameOf(task),
          ).toBe(barTicks(task.phrase.metre));
    }
  });
  it('strike each note on its string and fret', () => {
    for (const task of [...pages, ...scales]) {
      const struck = partOf(task)
        .measure.flatMap((measure) => notesOf(measure, 2))
        .filter((note) => note.pitch && !list<any>(note.tie).some(({ type }) => type === 'stop'))
        .map(({ notations }) => [notations.technical.string, notations.technical.fret]);
      expect(struck, nameOf(task)).toEqual(task.phrase.notes.map(({ string, fret }) => [string, fret]));
    }
  });
  it('show what is printed beside the notes of a page: each dynamic at its place, each hairpin from and to, each articulation', () => {
    let seen = 0;
    for (const task of pages) {
      const bar = barTicks(task.phrase.metre);
      const directions = partOf(task).measure.flatMap((measure, k) =>
        list<any>(measure.direction).map((one) => ({
          atTicks: k * bar + (one.offset ?? 0),
          ...one['direction-type'],
        })),
      );
      const words = directions.flatMap(({ atTicks, dynamics }) =>
        dynamics ? [[atTicks, Object.keys(dynamics)[0]]] : [],
      );
      const wedges = directions.flatMap(({ atTicks, wedge }) => (wedge ? [[atTicks, wedge.type]] : []));
      const articulations = partOf(task)
        .measure.flatMap((measure) => notesOf(measure, 1))
        .flatMap(({ notations }) => Object.keys(notations?.articulations ?? {}));
      const want = { words: [] as unknown[], wedges: [] as unknown[], articulations: [] as string[] };
      for (const sign of task.signs) {
        if (sign.kind === 'dynamic') want.words.push([sign.atTicks, sign.word]);
        else if (sign.kind === 'louder' || sign.kind === 'softer')
          want.wedges.push(
            [sign.fromTicks, sign.kind === 'louder' ? 'crescendo' : 'diminuendo'],
            [sign.toTicks, 'stop'],
          );
        else want.articulations.push(sign.kind);
      }
      const sorted = (all: unknown[]): string[] => all.map((one) => JSON.stringify(one)).sort();
      expect(sorted(words), nameOf(task)).toEqual(sorted(want.words));
      expect(sorted(wedges), nameOf(task)).toEqual(sorted(want.wedges));
      expect(sorted(articulations), nameOf(task)).toEqual(sorted(want.articulations));
      seen += task.signs.length;
    }
    expect(seen).toBeGreaterThan(60);
  });
  it('are called by what is asked for', () => {
    const [scale] = scales;
    expect(testToMusicXml(scale!)).toContain(
      `<work-title>${scale!.named.tonic} ${scale!.named.kind}</work-title>`,
    );
  });
});

describe('pages and scales as MIDI', () => {
  it('sound each note at its time, swung where it swings', () => {
    for (const task of [...pages, ...scales]) {
      const [, track] = read(testToMidi(task)).tracks;
      let now = 0;
      const struck = track!.flatMap((event): [number, number][] => {
        now += event.deltaTime;
        const on = event.type === 'channel' && event.subtype === 'noteOn' && event.velocity > 0;
        return on ? [[now, event.noteNumber]] : [];
      });
      const secOfTick = 60 / task.tempoBpm / 480;
      expect(
        struck.map(([, midi]) => midi),
        nameOf(task),
      ).toEqual(task.phrase.notes.map(({ midi }) => midi));
      struck.forEach(([tick], i) =>
        expect(tick * secOfTick).toBeCloseTo(performedSec(task.phrase.notes[i]!.startTicks, task), 2),
      );
    }
  });
});
