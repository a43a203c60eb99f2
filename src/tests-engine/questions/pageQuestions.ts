import { barTicks, unitTicks } from '../../music/metre.ts';
import type { Key, Phrase, WrittenNote } from '../../music/score.ts';
import { fifthsOf } from '../../music/signature.ts';
import type { PageSign } from '../../music/task.ts';
import { makeRandom, type Random } from '../material/random/random.ts';
import { TEMPO_WORDS, tempoWord } from './tempo.ts';
import { intervalOf, isValue, VALUES } from './value.ts';

/** What is asked of a page. */
export type Asking = 'value' | 'name' | 'interval' | 'signature' | 'metre' | 'tempo' | 'sign' | 'again';

/** A question on a page. Answers are plain tokens; their words are the catalogue's, British or American. */
export interface PageQuestion {
  readonly asking: Asking;
  /** Bar from 1 and note of it from 1, where one is asked about; the second note of an interval follows it. */
  readonly bar: number | null;
  readonly note: number | null;
  /** What is asked about, where it is none of the notes: a word of tempo, a sign. */
  readonly about: string | null;
  readonly answer: string;
  /** Three different ones in any order, the answer among them. */
  readonly choices: readonly string[];
}

/** Notation of any page: a page to read, a phrase, or bars of a piece. */
export interface AskedPage {
  readonly phrase: Phrase;
  readonly key: Key;
  readonly tempoBpm: number;
  readonly signs?: readonly PageSign[];
}

const SIGNS = ['p', 'mp', 'mf', 'f', 'louder', 'softer', 'staccato', 'accent', 'tenuto'] as const;
const LETTERS = 'CDEFGAB';
/** Wrong answers that learners give: the other quality, the neighbouring size. */
const INTERVALS = ['m2', 'M2', 'm3', 'M3', 'P4', 'A4', 'd5', 'P5', 'm6', 'M6', 'm7', 'M7', 'P8'];

/** The answer and the two nearest others of an ordered list, shuffled. */
function among(answer: string, near: readonly string[], random: Random): readonly string[] | null {
  const others = [...new Set(near)].filter((one) => one !== answer);
  if (others.length < 2) return null;
  const pool = others.slice(0, 4);
  const first = random.pick(pool);
  const second = random.pick(pool.filter((one) => one !== first));
  const three = [answer, first, second];
  for (let i = three.length - 1; i > 0; i--) {
    const k = random.below(i + 1);
    [three[i], three[k]] = [three[k]!, three[i]!];
  }
  return three;
}

/** Items of a list in order of their distance from one of them. */
const around = <T>(list: readonly T[], at: number): T[] =>
  list
    .map((item, i) => [Math.abs(i - at), item] as const)
    .sort(([a], [b]) => a - b)
    .map(([, item]) => item);

interface Placed {
  readonly note: WrittenNote;
  readonly bar: number;
  readonly nth: number;
}

function placed({ metre, notes }: Phrase): Placed[] {
  const length = barTicks(metre);
  const counts = new Map<number, number>();
  return notes.map((note) => {
    const bar = Math.floor(note.startTicks / length) + 1;
    const nth = (counts.get(bar) ?? 0) + 1;
    counts.set(bar, nth);
    return { note, bar, nth };
  });
}

/** A name without its octave. */
const letterOf = (spelling: string): string => spelling.replace(/-?\d+$/, '');

function nameNeighbours(name: string): string[] {
  const at = LETTERS.indexOf(name[0]!);
  const [up, down] = [LETTERS[(at + 1) % 7]!, LETTERS[(at + 6) % 7]!];
  const altered = name.length > 1 ? [name[0]!] : [`${name}#`, `${name}b`];
  return [...altered, up, down, ...(name.length > 1 ? [up + name.slice(1), down + name.slice(1)] : [])];
}

/** All that can be asked of this page: one maker a kind; each gives null where the page has nothing of it. */
const MAKERS: Readonly<
  Record<Asking, (page: AskedPage, notes: readonly Placed[], random: Random) => PageQuestion | null>
> = {
  value(_, notes, random) {
    const plain = notes.filter(({ note }) => isValue(note.durationTicks));
    if (plain.length === 0) return null;
    const { note, bar, nth } = random.pick(plain);
    const at = VALUES.indexOf(note.durationTicks as never as (typeof VALUES)[number]);
    return asked('value', String(note.durationTicks), around(VALUES, at).map(String), random, {
      bar,
      note: nth,
    });
  },
  name(_, notes, random) {
    if (notes.length === 0) return null;
    const { note, bar, nth } = random.pick(notes);
    const name = letterOf(note.spelling);
    return asked('name', name, nameNeighbours(name), random, { bar, note: nth });
  },
  interval(_, notes, random) {
    const pairs = notes.flatMap((one, i) => {
      const next = notes[i + 1];
      if (!next) return [];
      const [low, high] = one.note.midi <= next.note.midi ? [one.note, next.note] : [next.note, one.note];
      const interval = intervalOf(low, high);
      return interval && INTERVALS.includes(interval) ? [{ ...one, interval }] : [];
    });
    if (pairs.length === 0) return null;
    const { bar, nth, interval } = random.pick(pairs);
    const near = around(INTERVALS, INTERVALS.indexOf(interval));
    return asked('interval', interval, near, random, { bar, note: nth });
  },
  signature({ key }, _, random) {
    const fifths = fifthsOf(key);
    const near = [fifths + 1, fifths - 1, -fifths, fifths + 2].filter((f) => f >= -7 && f <= 7);
    return asked('signature', String(fifths), near.map(String), random);
  },
  metre({ phrase: { metre } }, _, random) {
    const { beats, beatUnit } = metre;
    // The two numbers taken for one another, another count, another unit.
    const near = [
      `${beatUnit} ${beats === 3 || beats === 6 || beats === 12 ? 4 : 8}`,
      `${beats} ${beatUnit === 8 ? 4 : 8}`,
      `${beats} ${beatUnit === 4 ? 2 : 4}`,
      `${beats + 1} ${beatUnit}`,
    ];
    return asked('metre', `${beats} ${beatUnit}`, near, random);
  },
  tempo({ tempoBpm, phrase }, _, random) {
    const unit = unitTicks(phrase.metre);
    const beat = unit >= 480 ? tempoBpm : tempoBpm / ((phrase.metre.grouping[0] ?? 2) * (unit / 480));
    const word = tempoWord(beat);
    const words = TEMPO_WORDS.map(([one]) => one);
    return asked('tempo', word, around(words, words.indexOf(word)), random, { about: word });
  },
  sign({ signs = [] }, _, random) {
    const kinds = signs.map((sign) => ('word' in sign ? sign.word : sign.kind));
    if (kinds.length === 0) return null;
    const kind = random.pick([...new Set(kinds)]);
    const at = SIGNS.indexOf(kind);
    return asked('sign', kind, around(SIGNS, at), random, { about: kind });
  },
  /** The bar in which the first bar's music comes back, at any height. */
  again({ phrase }, notes, random) {
    const shape = (bar: number): string => {
      const own = notes.filter((one) => one.bar === bar).map(({ note }) => note);
      const from = (bar - 1) * barTicks(phrase.metre);
      return own.map((n) => `${n.startTicks - from}:${n.durationTicks}:${n.midi - own[0]!.midi}`).join(' ');
    };
    const first = shape(1);
    if (first.split(' ').length < 3) return null;
    const bars = Array.from({ length: phrase.bars - 1 }, (_, k) => k + 2);
    const back = bars.filter((bar) => shape(bar) === first);
    const not = bars.filter((bar) => shape(bar) !== first);
    if (back.length === 0 || not.length < 2) return null;
    const [bar] = back;
    return asked(
      'again',
      String(bar),
      around(
        not,
        not.findIndex((b) => b > bar!),
      ).map(String),
      random,
    );
  },
};

function asked(
  asking: Asking,
  answer: string,
  near: readonly string[],
  random: Random,
  { bar = null, note = null, about = null }: Partial<Pick<PageQuestion, 'bar' | 'note' | 'about'>> = {},
): PageQuestion | null {
  const choices = among(answer, near, random);
  return choices && { asking, bar, note, about, answer, choices };
}

const ORDER: readonly Asking[] = [
  'metre',
  'signature',
  'tempo',
  'sign',
  'value',
  'name',
  'interval',
  'again',
];

/** A page of eight bars has no more that are worth asking. */
export const MOST_QUESTIONS = 12;

/**
 * Questions on a page, each of another kind as far as it has them, then more on its notes; the same seed asks the same.
 * @param count 1…12 @throws RangeError otherwise
 */
export function pageQuestions(page: AskedPage, seed: number, count = 6): PageQuestion[] {
  if (!(Number.isInteger(count) && count >= 1 && count <= MOST_QUESTIONS))
    throw new RangeError(`1 to ${MOST_QUESTIONS} questions are asked, got ${count}`);
  const random = makeRandom(seed, 77);
  const notes = placed(page.phrase);
  const made: PageQuestion[] = [];
  const add = (asking: Asking): void => {
    const one = MAKERS[asking](page, notes, random);
    const again = (q: PageQuestion): boolean =>
      q.asking === one?.asking && q.bar === one.bar && q.note === one.note && q.about === one.about;
    if (one && !made.some(again)) made.push(one);
  };
  const kinds = [...ORDER];
  while (kinds.length > 0 && made.length < count) {
    const kind = random.pick(kinds);
    kinds.splice(kinds.indexOf(kind), 1);
    add(kind);
  }
  for (let tries = 0; made.length < count && tries < 20; tries++)
    add(random.pick(['value', 'name', 'interval'] as const));
  return made;
}
