import type { SittingRun, Station, UnseenChoice } from '../../music/sitting.ts';
import type { ReadingTask } from '../../music/task.ts';
import { chordFits, levelList, makeChords, makeTest } from '../material/index.ts';
import { mix } from '../material/random/random.ts';
import { MOST_QUESTIONS, pageQuestions, type PageQuestion } from '../questions/index.ts';
import { drawScales, makeImprovising, makeReading, type Task } from '../tasks/index.ts';

/** What a station asks for at one place: a task to play, a question on a page, a piece of the player's own, or nothing but to be heard. */
export type Item =
  | { readonly is: 'task'; readonly task: Task }
  | { readonly is: 'question'; readonly page: ReadingTask; readonly question: PageQuestion }
  | { readonly is: 'piece'; readonly trackId: string; readonly title: string }
  | { readonly is: 'sound' };

/** What all stations of a sitting share. */
type Shared = Pick<SittingRun, 'setup' | 'seed'>;

/** Keeps material of stations and of their tries apart. */
const salt = (station: number, tries: number): number => 1000 * (station + 1) + tries;

function tasksOf(
  station: Station,
  { instrument, tuning }: SittingRun['setup'],
  seed: number,
  choice: UnseenChoice | null,
): Task[] {
  switch (station.what) {
    case 'scales': {
      const list = station.list ?? levelList(station.level, instrument);
      const level = station.list ? null : station.level;
      return drawScales({ list, tuning, click: station.click, level, seed }, station.count);
    }
    case 'chords': {
      const { families, how, count, voicing, tempoBpm } = station;
      const own = station.list?.chords.filter(chordFits) ?? [];
      const asked = {
        ...{ families, count, voicing, tempoBpm, seed },
        ...(own.length > 0 ? { chords: own } : {}),
      };
      try {
        return [makeChords({ ...asked, how })];
      } catch (error) {
        // Of some kinds of shape no key holds a progression: then they are named one by one.
        if (!(error instanceof RangeError) || how === 'named') throw error;
        return [makeChords({ ...asked, how: 'named' })];
      }
    }
    case 'unseen': {
      const { shows, click, plays } = station;
      return choice === 'improvising'
        ? [
            makeImprovising({
              level: station.improvisingLevel,
              prepareSec: station.improvisingSec,
              ...{ plays, instrument, tuning, seed },
            }),
          ]
        : [
            makeReading({
              level: station.readingLevel,
              prepareSec: station.readingSec,
              ...{ shows, click, prepareClick: click, instrument, tuning, seed },
            }),
          ];
    }
    case 'melody':
    case 'rhythm':
      return Array.from({ length: station.count }, (_, i) =>
        makeTest({ kind: station.what, level: station.level, seed: mix(seed, i), instrument, tuning }),
      );
    default:
      return [];
  }
}

/** Questions on one unseen page: as many as its music gives, at most so many as are asked for. */
function questionsOf(
  { level, count }: Extract<Station, { what: 'questions' }>,
  { instrument, tuning }: SittingRun['setup'],
  seed: number,
): Item[] {
  const page = makeReading({ level, seed, instrument, tuning });
  return pageQuestions(page, seed, Math.min(count, MOST_QUESTIONS)).map((question) => ({
    is: 'question',
    page,
    question,
  }));
}

/**
 * All that a station asks for, drawn by the sitting's seed, the station's place and how often it has begun: the same
 * arguments give the same, another try other material. Of the unseen, the page until improvising is chosen; pieces in
 * the setup's order, as there are no others.
 */
export function itemsAt(shared: Shared, at: number, way: Way): readonly Item[] {
  // A page asks with every picture, and the first test of a level takes up to a second.
  const drawn = DRAWN.get(shared.setup) ?? new Map<string, readonly Item[]>();
  DRAWN.set(shared.setup, drawn);
  const key = [shared.seed, at, way.tries, way.choice].join(' ');
  const known = drawn.get(key) ?? draw(shared, at, way);
  drawn.set(key, known);
  return known;
}

interface Way {
  readonly tries: number;
  readonly choice: UnseenChoice | null;
}
const DRAWN = new WeakMap<SittingRun['setup'], Map<string, readonly Item[]>>();

function draw({ setup, seed }: Shared, at: number, { tries, choice }: Way): Item[] {
  const station = setup.stations[at];
  if (!station) return [];
  const own = mix(seed, salt(at, tries));
  if (station.what === 'sound') return [{ is: 'sound' }];
  if (station.what === 'pieces') return station.pieces.map((piece) => ({ is: 'piece', ...piece }));
  if (station.what === 'questions') return questionsOf(station, setup, own);
  return tasksOf(station, setup, own, choice).map((task) => ({ is: 'task', task }));
}
