import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { makeStrum, strumSet } from '../../../audio-fixtures/chords/index.ts';
import { hearStrums, judgeStrum } from '../../../src/dsp/chords/index.ts';
import type { HeardStrum } from '../../../src/dsp/chords/index.ts';
import { QUALITIES, quality } from '../../../src/music/chords/index.ts';
import { baselineScores } from './baselines.ts';
import type { BaselineScores } from './baselines.ts';
import { head, limitsOf, line, share } from './report.ts';

/**
 * Recorded chords of Debian's sonic-pi-samples (CC0), annotated by hand: strokes by ear and wave, notes from the peaks of a 16,384-point
 * spectrum after each stroke (a note counts where its first partial and one more stand within 30 dB of the greatest). Both have echo put on
 * them; what is listed are the strokes, not their echoes.
 */
const FOLDER = '/usr/share/sonic-pi/samples';
const STROKES = [
  // Em9 broken from the top and left ringing: whole from its lowest string on.
  { file: 'guit_em9.flac', atSec: 1.235, notes: [40, 59, 66, 67, 74] },
  // Fifths on fifths: E3 B3 F#4.
  { file: 'guit_e_fifths.flac', atSec: 0.518, notes: [52, 59, 66] },
] as const;
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
  if (STROKES.every(({ file }) => existsSync(join(FOLDER, file)))) {
    out.push('', "### Recorded chords: two, annotated by hand (Debian's sonic-pi-samples; echo on both)", '');
    out.push(...head(['file', 'asked', 'this', ...TITLES]));
    for (const { file, atSec, notes } of STROKES) {
      const strums = hearStrums(samplesOf(join(FOLDER, file)), RATE);
      const strum = strums.find(({ firstSec }) => Math.abs(firstSec - atSec) < 0.05);
      for (const by of [0, ...SHIFTS]) {
        const asked = notes.map((note) => note + by);
        const said = strum ? judgeStrum(strum, { shapes: [asked] }, { driven: false }).verdict : 'not found';
        const others = strum ? plain(strum, asked).map((no) => (no ? 'no' : 'yes')) : [];
        out.push(line([file, by === 0 ? 'as played' : `${by} semitones`, said, ...others]));
      }
    }
  } else out.push('', "Debian's sonic-pi-samples is not installed: no recorded chords.");
  if (takes !== null) out.push(...lineTable(takes, plain));
  return out;
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
