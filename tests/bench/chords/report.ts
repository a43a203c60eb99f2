import { CHORD_KINDS, EFFECTS, FAULTS, RIGHT } from '../../../audio-fixtures/chords/index.ts';
import type { Fault } from '../../../audio-fixtures/chords/index.ts';
import type { ChordVerdict, JudgedChord } from '../../../src/music/chords/index.ts';
import type { BaselineScores } from './baselines.ts';
import { MARGINS, type BackingRow } from './backing.ts';
import type { Row } from './run.ts';

/** Share and 95 % interval (Wilson 1927), per cent. */
export function share(hits: number, of: number): string {
  if (of === 0) return '–';
  const z = 1.96;
  const p = hits / of;
  const middle = (p + (z * z) / (2 * of)) / (1 + (z * z) / of);
  const half = (z / (1 + (z * z) / of)) * Math.sqrt((p * (1 - p)) / of + (z * z) / (4 * of * of));
  const percent = (v: number): string => (100 * v).toFixed(1);
  return `${percent(p)} (${percent(Math.max(0, middle - half))}…${percent(Math.min(1, middle + half))})`;
}

type View = 'shape' | 'byName';
const says = (row: Row, view: View): ChordVerdict => row[view]?.verdict ?? 'cannot-tell';
const count = (rows: readonly Row[], view: View, verdict: ChordVerdict): number =>
  rows.filter((row) => says(row, view) === verdict).length;

export const line = (cells: readonly (string | number)[]): string => `| ${cells.join(' | ')} |`;
export const head = (cells: readonly string[]): string[] => [line(cells), line(cells.map(() => '---'))];

const counts = (name: string, rows: readonly Row[], view: View = 'shape'): string =>
  line([
    name,
    rows.length,
    share(count(rows, view, 'no'), rows.length),
    share(count(rows, view, 'cannot-tell'), rows.length),
    share(count(rows, view, 'yes'), rows.length),
  ]);

/** Faults that change the classes that sound, or that a bass is missed by: those that have to be caught. */
const CLASS_FAULTS: readonly Fault[] = [
  'third to fourth',
  'major for minor',
  'no third',
  'muted',
  'fret off',
  'wrong chord',
  'single note',
];

/** Does the verdict name what is wrong, and nothing else? */
function named({ made, shape }: Row): boolean {
  if (shape?.verdict !== 'no') return false;
  const asked = new Set(made.asked.map((midi) => midi % 12));
  const sounds = new Set(made.sounding.map((midi) => midi % 12));
  const { missing, foreign, lowerNote, bassSilent } = shape.findings;
  return (
    missing.every((pc) => !sounds.has(pc)) &&
    foreign.every((pc) => sounds.has(pc) && !asked.has(pc)) &&
    (lowerNote === null || made.sounding.includes(lowerNote)) &&
    (!bassSilent || !made.sounding.includes(made.asked[0]!))
  );
}

export function faultTables(rows: readonly Row[]): string[] {
  const out: string[] = [];
  for (const [title, own] of [
    ['without overdrive', rows.filter((r) => !r.driven)],
    ['overdriven (crunch and heavy), known to be', rows.filter((r) => r.driven)],
  ] as const) {
    out.push(
      '',
      `### By fault, ${title}`,
      '',
      ...head(['fault', 'strums', 'no', "can't tell", 'yes', 'named and nothing else']),
    );
    for (const fault of FAULTS) {
      const of = own.filter((r) => r.order.fault === fault);
      const last = RIGHT.includes(fault) ? '' : share(of.filter(named).length, of.length);
      if (of.length > 0) out.push(`${counts(fault, of)} ${last} |`);
    }
    const right = own.filter((r) => r.right);
    const faulty = own.filter((r) => CLASS_FAULTS.includes(r.order.fault));
    out.push(
      `${counts('**all right ones**', right)} |`,
      `${counts('**all class faults**', faulty)} ${share(faulty.filter(named).length, faulty.length)} |`,
    );
  }
  return out;
}

export function splitTables(rows: readonly Row[]): string[] {
  const out: string[] = [];
  const split = (
    title: string,
    keys: readonly string[],
    key: (row: Row) => string,
    of: readonly Row[],
  ): void => {
    out.push(
      '',
      `### By ${title}`,
      '',
      ...head([title, 'right', 'accused', "can't tell", 'yes', 'class faults', 'caught', "can't tell"]),
    );
    for (const name of keys) {
      const own = of.filter((row) => key(row) === name);
      const right = own.filter((r) => r.right);
      const faulty = own.filter((r) => CLASS_FAULTS.includes(r.order.fault));
      if (own.length === 0) continue;
      out.push(
        `${counts(name, right)} ${faulty.length} | ${share(count(faulty, 'shape', 'no'), faulty.length)} | ${share(count(faulty, 'shape', 'cannot-tell'), faulty.length)} |`,
      );
    }
  };
  const undriven = rows.filter((r) => !r.driven);
  split('condition', EFFECTS, (r) => r.order.effect, rows);
  split('kind of chord', CHORD_KINDS, (r) => r.order.kind, undriven);
  split('instrument', [...new Set(rows.map((r) => r.order.bank.name))], (r) => r.order.bank.name, undriven);
  return out;
}

/** Why it could not be told, without overdrive: right strums and class faults by condition. */
export function doubtTable(rows: readonly Row[]): string[] {
  const untold = rows.filter((r) => !r.driven && says(r, 'shape') === 'cannot-tell');
  const why = (row: Row): string => row.shape?.doubt ?? 'not found';
  const reasons = [...new Set(untold.map(why))].sort();
  const out = ['', "### Why it can't be told, without overdrive", '', ...head(['condition', ...reasons])];
  for (const effect of EFFECTS) {
    const own = untold.filter((r) => r.order.effect === effect);
    if (own.length === 0) continue;
    const of = (reason: string, right: boolean): number =>
      own.filter((r) => why(r) === reason && r.right === right).length;
    out.push(line([effect, ...reasons.map((r) => `${of(r, true)} right, ${of(r, false)} others`)]));
  }
  return out;
}

/** Asked by name, in any voicing: octaves and bass are not asked about. */
export function nameTable(rows: readonly Row[]): string[] {
  const own = rows.filter((r) => !r.driven);
  return [
    '',
    '### Asked by name, any voicing, without overdrive',
    '',
    ...head(['', 'strums', 'no', "can't tell", 'yes']),
    counts(
      'right',
      own.filter((r) => r.right),
      'byName',
    ),
    counts(
      'class faults',
      own.filter((r) => CLASS_FAULTS.includes(r.order.fault)),
      'byName',
    ),
  ];
}

/** Plain methods on the same spectra, each given the lines that accuse as few of these very right strums as it is given. */
export function baselineTable(rows: readonly Row[]): string[] {
  const own = rows.filter((r) => !r.driven && r.scores);
  const right = own.filter((r) => r.right);
  const accused = count(right, 'shape', 'no') / right.length;
  const aim = Math.max(accused, 0.005);
  const out = [
    '',
    `### Beside plain methods, lines drawn on these very right strums to accuse ${(100 * aim).toFixed(1)} %`,
    '',
  ];
  const faults = FAULTS.filter((f) => !RIGHT.includes(f));
  out.push(...head(['', 'accused', ...faults]));
  const shareNo = (of: readonly Row[], no: (row: Row) => boolean): string =>
    of.length === 0 ? '–' : ((100 * of.filter(no).length) / of.length).toFixed(1);
  const add = (name: string, no: (row: Row) => boolean): void => {
    out.push(
      line([
        name,
        shareNo(right, no),
        ...faults.map((f) =>
          shareNo(
            own.filter((r) => r.order.fault === f),
            no,
          ),
        ),
      ]),
    );
  };
  for (const method of ['template', 'chroma', 'nnls'] as const) {
    const limits = limitsOf(
      right.map(({ scores }) => scores!),
      method,
      aim,
    );
    add(
      { template: 'chroma, cosine templates', chroma: 'chroma, shares', nnls: 'non-negative least squares' }[
        method
      ],
      (row) => row.scores![method].some((v, i) => v > limits[i]!),
    );
  }
  add('this', (row) => says(row, 'shape') === 'no');
  return out;
}

/** The lines of a method over which `aim` of these right strums' scores lie. */
export function limitsOf(
  right: readonly BaselineScores[],
  method: keyof BaselineScores,
  aim: number,
): number[] {
  const sizes = right[0]![method].length;
  return Array.from({ length: sizes }, (_, i) => {
    const sorted = right.map((scores) => scores[method][i]!).sort((a, b) => b - a);
    return sorted[Math.floor((aim / sizes) * sorted.length)]!;
  });
}

export function onsetTable(rows: readonly Row[]): string[] {
  const groups: [string, (r: Row) => boolean][] = [
    ['fast (2–12 ms a string)', (r) => r.order.effect !== 'raked' && r.order.kind !== 'arpeggiated'],
    ['slow (30–50 ms a string)', (r) => r.order.kind === 'arpeggiated' && r.order.effect !== 'raked'],
    ['raked (20–60 ms a string)', (r) => r.order.effect === 'raked'],
    ...EFFECTS.map((effect): [string, (r: Row) => boolean] => [effect, (r) => r.order.effect === effect]),
    ['all', () => true],
  ];
  const out = [
    '',
    '### When: first string against the truth',
    '',
    ...head(['', 'strums', 'not found', 'extra', 'bias ms', 'spread ms (half of 5…95 %)', 'within ±15 ms']),
  ];
  for (const [name, own] of groups) {
    const of = rows.filter(own);
    const errors = of.flatMap((r) => (r.errorMs === null ? [] : [r.errorMs])).sort((a, b) => a - b);
    if (errors.length === 0) continue;
    const at = (p: number): number => errors[Math.floor(p * (errors.length - 1))]!;
    out.push(
      line([
        name,
        of.length,
        of.length - errors.length,
        of.reduce((s, r) => s + r.extraStrums, 0),
        at(0.5).toFixed(1),
        ((at(0.95) - at(0.05)) / 2).toFixed(1),
        share(errors.filter((e) => Math.abs(e) <= 15).length, of.length),
      ]),
    );
  }
  return out;
}

/** How often what is said with a probability is so. */
export function calibrationTable(rows: readonly Row[]): string[] {
  const out = [
    '',
    '### Probability said → so, classes',
    '',
    ...head(['', ...['<.1', '.1–.5', '.5–.9', '>.9']]),
  ];
  for (const asked of [true, false]) {
    const pairs = rows.flatMap(
      ({ shape, made }) =>
        (shape as JudgedChord | null)?.classes
          .filter((c) => c.asked === asked)
          .map((c) => [c.probability, made.sounding.some((m) => m % 12 === c.pitchClass)] as const) ?? [],
    );
    const cells = [
      [0, 0.1],
      [0.1, 0.5],
      [0.5, 0.9],
      [0.9, 1.01],
    ].map(([low, high]) => {
      const own = pairs.filter(([p]) => p >= low! && p < high!);
      if (own.length === 0) return '–';
      const said = own.reduce((s, [p]) => s + p, 0) / own.length;
      return `${said.toFixed(3)} → ${(own.filter(([, so]) => so).length / own.length).toFixed(3)} (${own.length})`;
    });
    out.push(line([asked ? 'asked' : 'foreign', ...cells]));
  }
  return out;
}

/** What each margin over a backing accuses and calls, on the fit's instruments: the least that accuses nobody is taken. */
export function marginTable(rows: readonly BackingRow[]): string[] {
  const levels = [...new Set(rows.map(({ bleedDb }) => bleedDb))].filter((level) => level !== null);
  const out = [
    '',
    "### On the fit's instruments: how much surer what sounds beside the chord must be, log-odds",
    '',
    ...head(['surer by', 'backing', 'right', 'accused', "can't tell", 'class faults', 'no']),
  ];
  for (const [k, margin] of MARGINS.entries())
    for (const level of levels) {
      const own = rows.filter((r) => r.bleedDb === level && r.byMargin.length > 0);
      const right = own.filter((r) => r.right);
      const faulty = own.filter((r) => CLASS_FAULTS.includes(r.fault));
      const is = (of: readonly BackingRow[], verdict: ChordVerdict): string =>
        share(of.filter((r) => r.byMargin[k]!.verdict === verdict).length, of.length);
      out.push(
        line([
          margin,
          `${level} dB`,
          right.length,
          is(right, 'no'),
          is(right, 'cannot-tell'),
          faulty.length,
          is(faulty, 'no'),
        ]),
      );
    }
  return out;
}

/** Strums over a backing that a loudspeaker played and that was taken out: all, then fault by fault. */
export function overTables(rows: readonly BackingRow[]): string[] {
  const levels = [...new Set(rows.map(({ bleedDb }) => bleedDb))];
  const is = (of: readonly BackingRow[], verdict: ChordVerdict): string =>
    share(of.filter((r) => (r.judged?.verdict ?? 'cannot-tell') === verdict).length, of.length);
  const out = [
    '',
    '### Over the band of the very progression, taken out (strums dry and in a room; the loudspeaker in rooms of RT60 0.3, 0.4, 0.6 s)',
    '',
    ...head([
      'backing',
      'right',
      'accused',
      "can't tell",
      'class faults',
      'no',
      "can't tell",
      'found',
      'within ±15 ms',
    ]),
  ];
  const nameOf = (level: number | null): string => (level === null ? 'headphones' : `${level} dB`);
  for (const level of levels) {
    const own = rows.filter((r) => r.bleedDb === level);
    const right = own.filter((r) => r.right);
    const faulty = own.filter((r) => CLASS_FAULTS.includes(r.fault));
    const found = own.filter((r) => r.errorMs !== null);
    out.push(
      line([
        nameOf(level),
        right.length,
        is(right, 'no'),
        is(right, 'cannot-tell'),
        faulty.length,
        is(faulty, 'no'),
        is(faulty, 'cannot-tell'),
        share(found.length, own.length),
        share(found.filter((r) => Math.abs(r.errorMs!) <= 15).length, found.length),
      ]),
    );
  }
  out.push('', ...head(['fault', 'backing', 'strums', 'no', "can't tell", 'yes']));
  for (const fault of FAULTS)
    for (const level of levels) {
      const own = rows.filter((r) => r.fault === fault && r.bleedDb === level);
      if (own.length > 0)
        out.push(
          line([fault, nameOf(level), own.length, is(own, 'no'), is(own, 'cannot-tell'), is(own, 'yes')]),
        );
    }
  return out;
}
