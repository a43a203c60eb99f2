import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { basename, join } from 'node:path';
import { makeStrum, strumSet } from '../../../audio-fixtures/chords/index.ts';
import { hearStrums, judgeStrum } from '../../../src/dsp/chords/index.ts';
import type { HeardStrum } from '../../../src/dsp/chords/index.ts';
import { QUALITIES, quality } from '../../../src/music/chords/index.ts';
import { baselineScores } from './baselines.ts';
import type { BaselineScores } from './baselines.ts';
import { head, limitsOf, line, share } from './report.ts';

/**
 * Recorded chords, annotated by hand: strokes by the wave, notes from the peaks of a 16,384-point spectrum after each stroke (a note counts
 * where its first partial and one more stand within 30 dB of the greatest and no lower note's partials account for both). Strokes that
 * sound for less than 0.4 s or whose notes stay open are not in the list. Of Debian's sonic-pi-samples (CC0; echo put on both) and
 * lmms-common (GPL-2+; a guitar strummed in a Latin manner, other strings' remains under each stroke, compressed as Vorbis).
 */
const PI = '/usr/share/sonic-pi/samples';
const LATIN = '/usr/share/lmms/samples/latin';
const AM = [45, 52, 57, 60, 64];
const F = [41, 48, 53, 57, 60, 65];
const E7 = [40, 47, 50, 56, 62, 64];
const STROKES: readonly {
  readonly path: string;
  readonly atSec: number;
  readonly notes: readonly number[];
}[] = [
  // Em9 broken from the top and left ringing: whole from its lowest string on.
  { path: `${PI}/guit_em9.flac`, atSec: 1.235, notes: [40, 59, 66, 67, 74] },
  // Fifths on fifths: E3 B3 F#4.
  { path: `${PI}/guit_e_fifths.flac`, atSec: 0.518, notes: [52, 59, 66] },
  // Am7.
  { path: `${LATIN}/latin_guitar01.ogg`, atSec: 0.022, notes: [45, 52, 55, 60, 64] },
  { path: `${LATIN}/latin_guitar02.ogg`, atSec: 0.031, notes: AM },
  { path: `${LATIN}/latin_guitar02.ogg`, atSec: 2.369, notes: [40, 47, 52, 56, 59, 64] },
  { path: `${LATIN}/latin_guitar03.ogg`, atSec: 0.032, notes: AM },
  { path: `${LATIN}/latin_guitar03.ogg`, atSec: 0.768, notes: [40, ...AM] },
  // Am over G.
  { path: `${LATIN}/latin_guitar03.ogg`, atSec: 2.015, notes: [43, 52, 57, 60, 64] },
  { path: `${LATIN}/latin_guitar03.ogg`, atSec: 2.752, notes: [43, 52, 57, 60, 64] },
  { path: `${LATIN}/latin_guitar03.ogg`, atSec: 4.024, notes: F },
  { path: `${LATIN}/latin_guitar03.ogg`, atSec: 4.721, notes: F },
  { path: `${LATIN}/latin_guitar03.ogg`, atSec: 5.708, notes: E7 },
  { path: `${LATIN}/latin_guitar03.ogg`, atSec: 6.758, notes: E7 },
];
const SHIFTS = [-2, -1, 1, 2] as const;
const RATE = 44_100;
const LOWEST = 40;
type Method = keyof BaselineScores;
const METHODS: readonly Method[] = ['template', 'chroma', 'nnls'];
const TITLES = ['chroma, cosine templates', 'chroma, shares', 'non-negative least squares'];

function samplesOf(path: string): Float32Array {
  const bytes = execFileSync(
    'sox',
    [path, '-c', '1', '-r', String(RATE), '-e', 'float', '-b', '32', '-t', 'raw', '-'],
    { maxBuffer: 1e9 },
  );
  return new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
}

/** Lines of the plain methods that accuse 0.5 % of right clean and roomy strums of the report's instruments. */
async function limits(): Promise<Record<Method, number[]>> {
  const orders = await strumSet({
    which: 'report',
    seed: 31,
    count: 240,
    right: 1,
    effects: ['clean', 'room'],
  });
  const scores = orders.flatMap((order): BaselineScores[] => {
    const made = makeStrum(order);
    const strum =
      made && hearStrums(made.signal, RATE).find((s) => Math.abs(s.firstSec - made.firstSec) < 0.08);
    return strum ? [baselineScores(strum.prepared, made.asked, Math.min(...made.chord.tuning))] : [];
  });
  const of = (method: Method): number[] => limitsOf(scores, method, 0.005);
  return { template: of('template'), chroma: of('chroma'), nnls: of('nnls') };
}

/** @param takes a folder of recorded lines (one note at a time): no chord asked of them is right. null: none */
export async function realTables(takes: string | null): Promise<string[]> {
  const drawn = await limits();
  const plain = (strum: HeardStrum, notes: readonly number[]): boolean[] => {
    const scores = baselineScores(strum.prepared, notes, LOWEST);
    return METHODS.map((method) => scores[method].some((v, i) => v > drawn[method][i]!));
  };
  const out: string[] = [];
  const there = STROKES.filter(({ path }) => existsSync(path));
  if (there.length < STROKES.length)
    out.push('', "Debian's sonic-pi-samples or lmms-common is not installed: not all recorded chords.");
  if (there.length > 0) out.push(...chordTable(there, plain));
  if (takes !== null) out.push(...lineTable(takes, plain));
  return out;
}

type Asked = 'as played' | 'all by 1 or 2 semitones' | 'one note by a semitone';

/** What may be asked of a stroke that sounds `notes`: itself, all of it shifted, and a note that no other doubles moved to a class that does not sound. */
function askedOf(notes: readonly number[]): [Asked, number[]][] {
  const classes = notes.map((note) => note % 12);
  const moved = notes.flatMap((note, i) =>
    classes.filter((pc) => pc === note % 12).length > 1
      ? []
      : [-1, 1]
          .filter((by) => !classes.includes((note + by + 12) % 12))
          .map((by) => notes.map((n, k) => (k === i ? n + by : n)).sort((a, b) => a - b)),
  );
  return [
    ['as played', [...notes]],
    ...SHIFTS.map((by): [Asked, number[]] => ['all by 1 or 2 semitones', notes.map((note) => note + by)]),
    ...moved.map((one): [Asked, number[]] => ['one note by a semitone', one]),
  ];
}

/** Recorded chords, asked as they were played and with other notes. */
function chordTable(
  strokes: typeof STROKES,
  plain: (strum: HeardStrum, notes: readonly number[]) => boolean[],
): string[] {
  const heard = new Map<string, readonly HeardStrum[]>();
  const single: string[] = [];
  const sums = new Map<Asked, { yes: number; untold: number; no: number; plain: number[] }>();
  for (const { path, atSec, notes } of strokes) {
    const strums = heard.get(path) ?? hearStrums(samplesOf(path), RATE);
    heard.set(path, strums);
    const strum = strums.find(({ firstSec }) => Math.abs(firstSec - atSec) < 0.05);
    let why = '';
    const said = askedOf(notes).map(([kind, asked]): [Asked, string] => {
      const sum = sums.get(kind) ?? { yes: 0, untold: 0, no: 0, plain: METHODS.map(() => 0) };
      sums.set(kind, sum);
      const judged = strum ? judgeStrum(strum, { shapes: [asked] }, { driven: false }) : null;
      const verdict = judged?.verdict ?? 'not found';
      if (kind === 'as played') why = judged?.doubt ?? '';
      if (verdict === 'yes') sum.yes++;
      else if (verdict === 'no') sum.no++;
      else sum.untold++;
      if (strum) plain(strum, asked).forEach((no, i) => (sum.plain[i]! += Number(no)));
      return [kind, verdict];
    });
    const others = said.slice(1);
    const count = (verdict: string): string => `${others.filter(([, v]) => v === verdict).length}`;
    single.push(
      line([
        `${basename(path)} ${atSec} s`,
        notes.join(' '),
        why ? `${said[0]![1]} (${why})` : said[0]![1],
        others.length,
        count('no'),
        count('cannot-tell'),
        count('yes'),
      ]),
    );
  }
  return [
    '',
    `### Recorded chords: ${strokes.length} strokes, annotated by hand`,
    '',
    ...head(['asked', 'asked of', 'no', "can't tell", 'yes', ...TITLES.map((title) => `${title}: no`)]),
    ...[...sums].map(([kind, { yes, untold, no, plain: by }]) => {
      const all = yes + untold + no;
      return line([
        kind,
        all,
        share(no, all),
        share(untold, all),
        share(yes, all),
        ...by.map((n) => share(n, all)),
      ]);
    }),
    '',
    ...head(['stroke', 'notes', 'as played', 'other notes asked', 'no', "can't tell", 'yes']),
    ...single,
  ];
}

const TRIADS = QUALITIES.filter(({ id }) => ['major', 'minor', 'dominant seventh'].includes(id));

/** Recorded lines, held against every major, minor and seventh chord by name. */
function lineTable(
  takes: string,
  plain: (strum: HeardStrum, notes: readonly number[]) => boolean[],
): string[] {
  let [strokes, asked, no, untold, yes] = [0, 0, 0, 0, 0];
  const passed = METHODS.map(() => 0);
  const files = readdirSync(takes).filter((name) => name.endsWith('.wav'));
  for (const file of files)
    for (const strum of hearStrums(samplesOf(join(takes, file)), RATE)) {
      strokes++;
      for (const { id } of TRIADS)
        for (let root = 0; root < 12; root++) {
          const classes = quality(id).intervals.map((i) => (root + i) % 12);
          const { verdict } = judgeStrum(strum, { classes }, { lowest: LOWEST, driven: false });
          asked++;
          if (verdict === 'no') no++;
          else if (verdict === 'yes') yes++;
          else untold++;
          // Every octave or none: plain methods look at classes.
          plain(
            strum,
            classes.map((pc) => 48 + pc),
          ).forEach((accused, i) => {
            if (!accused) passed[i]!++;
          });
        }
    }
  return [
    '',
    `### Recorded lines (${files.length} takes of single notes) answered to chords asked by name: none is right`,
    '',
    ...head([
      'strokes',
      'chords asked',
      'no',
      "can't tell",
      'yes',
      ...TITLES.map((title) => `${title}: yes`),
    ]),
    line([
      strokes,
      asked,
      share(no, asked),
      share(untold, asked),
      share(yes, asked),
      ...passed.map((n) => share(n, asked)),
    ]),
  ];
}
