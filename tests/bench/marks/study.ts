import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { markTake, type MarkRequest, type PlayedNote } from '../../../src/tests-engine/index.ts';
import { mean, random } from './stats.ts';

/** Two bars of 4/4 at 100 bpm: crotchets and quavers. */
const TARGET = [0, 1, 1.5, 2, 3, 3.5, 4, 5, 5.5, 6, 6.5, 7].map((beat, k) => ({
  onsetSec: beat * 0.6,
  midi: [60, 64, 67, 65, 69, 71, 62, 65, 72, 71, 67, 60][k]!,
}));
/** Takes a point: the mean is then good to about half a mark. */
const TAKES = 60;

type Player = (size: number, next: () => number) => PlayedNote[];
interface Kind {
  readonly name: string;
  readonly unit: string;
  readonly sizes: readonly number[];
  readonly play: Player;
}
const normal = (next: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
/** `count` different places, the same for every size of a seed: a larger count adds places to a smaller one. */
function places(count: number, next: () => number): Set<number> {
  const order = TARGET.map((_, k) => ({ k, at: next() })).sort((a, b) => a.at - b.at);
  return new Set(order.slice(0, count).map((o) => o.k));
}
const COUNTS = [0, 1, 2, 3, 4, 6, 8, 10];
const shift = (ms: number): PlayedNote[] => TARGET.map((n) => ({ ...n, onsetSec: n.onsetSec + ms / 1000 }));

const KINDS: readonly Kind[] = [
  {
    name: 'spread of every note',
    unit: 'ms s.d.',
    sizes: [0, 5, 10, 15, 20, 30, 40, 60, 80, 120],
    play: (ms, next) => TARGET.map((n) => ({ ...n, onsetSec: n.onsetSec + (ms / 1000) * normal(next) })),
  },
  {
    name: 'late throughout',
    unit: 'ms',
    sizes: [0, 20, 40, 60, 80, 100, 150, 200, 300],
    play: (ms) => shift(ms),
  },
  {
    name: 'early throughout',
    unit: 'ms',
    sizes: [0, 20, 40, 60, 80, 100, 150, 200, 300],
    play: (ms) => shift(-ms),
  },
  {
    name: 'one note late',
    unit: 'ms',
    sizes: [0, 30, 60, 90, 120, 150, 200, 250],
    play: (ms, next) => {
      const at = places(1, next);
      return TARGET.map((n, k) => (at.has(k) ? { ...n, onsetSec: n.onsetSec + ms / 1000 } : n));
    },
  },
  {
    name: 'wrong notes (a tone)',
    unit: 'notes of 12',
    sizes: COUNTS,
    play: (count, next) => {
      const at = places(count, next);
      return TARGET.map((n, k) => (at.has(k) ? { ...n, midi: n.midi + (k % 2 ? 2 : -2) } : n));
    },
  },
  {
    name: 'missed notes',
    unit: 'notes of 12',
    sizes: COUNTS,
    play: (count, next) => {
      const at = places(count, next);
      return TARGET.filter((_, k) => !at.has(k));
    },
  },
  {
    name: 'extra notes',
    unit: 'notes',
    sizes: COUNTS,
    play: (count, next) => {
      const at = places(count, next);
      return TARGET.flatMap((n, k) =>
        at.has(k) ? [n, { onsetSec: n.onsetSec + 0.17, midi: n.midi + 6 }] : [n],
      );
    },
  },
  {
    name: 'stopped before the end',
    unit: 'notes left out',
    sizes: COUNTS,
    play: (count) => TARGET.slice(0, TARGET.length - count),
  },
  {
    name: 'one note out of tune',
    unit: 'cents',
    sizes: [0, 20, 40, 50, 60, 80, 100, 150, 200],
    play: (cents, next) => {
      const at = places(1, next);
      return TARGET.map((n, k) => (at.has(k) ? { ...n, midi: n.midi + cents / 100 } : n));
    },
  },
  {
    name: 'faster along the way',
    unit: '% by the end',
    sizes: [0, 2, 4, 6, 8, 10, 15, 20],
    play: (percent) => {
      const end = TARGET[TARGET.length - 1]!.onsetSec;
      return TARGET.map((n) => ({
        ...n,
        onsetSec: n.onsetSec * (1 - ((percent / 100) * n.onsetSec) / end / 2),
      }));
    },
  },
];

interface Curve {
  readonly kind: Kind;
  readonly label: string;
  readonly marks: readonly number[];
}

function curve(kind: Kind, label: string, over: Partial<MarkRequest>, rhythm: boolean): Curve {
  const bare = (list: readonly PlayedNote[]): PlayedNote[] =>
    rhythm ? list.map(({ onsetSec }) => ({ onsetSec })) : [...list];
  const marks = kind.sizes.map((size) =>
    mean(
      Array.from({ length: TAKES }, (_, take) => {
        const played = bare(kind.play(size, random(take + 1)));
        return markTake({
          target: bare(TARGET),
          played,
          clock: 'backing',
          transposition: 'none',
          beatSec: 0.6,
          ...over,
        }).mark!;
      }),
    ),
  );
  return { kind, label, marks };
}

const VARIANTS = [
  ['melody, backing', {}, false],
  ['melody, own tempo', { clock: 'free' }, false],
  ['rhythm, backing', {}, true],
] as const;
const PITCHED = /wrong|tune/;

/** The simulated-performer study: a markdown table on the console and a plot in `folder`. */
export function study(folder: string): void {
  console.log('\n## Simulated performers: size of an error and the mean mark\n');
  const all: Curve[][] = KINDS.map((kind) =>
    VARIANTS.filter(([, , rhythm]) => !(rhythm && PITCHED.test(kind.name))).map(([label, over, rhythm]) =>
      curve(kind, label, over, rhythm),
    ),
  );
  for (const curves of all) {
    const { kind } = curves[0]!;
    console.log(`| ${kind.name}, ${kind.unit} | ${kind.sizes.join(' | ')} |`);
    console.log(`|---${'|---'.repeat(kind.sizes.length)}|`);
    for (const c of curves) console.log(`| ${c.label} | ${c.marks.map((x) => x.toFixed(1)).join(' | ')} |`);
    const rises = curves
      .flatMap((c) => c.marks.slice(1).map((x, k) => x - c.marks[k]!))
      .filter((x) => x > 0.05);
    console.log(rises.length ? `\nRises by up to ${Math.max(...rises).toFixed(2)}.\n` : '\nNever rises.\n');
  }
  const path = join(folder, 'marks-study.svg');
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, plot(all));
  console.log(`Plot: ${path}`);
}

/** One small panel an error kind; the three variants told by dash, mark and word, not by colour alone. */
function plot(all: readonly (readonly Curve[])[]): string {
  const [w, h, columns] = [230, 150, 4];
  const dashes = ['', '5 3', '1 3'];
  const panels = all.map((curves, p) => {
    const { kind } = curves[0]!;
    const x0 = (p % columns) * (w + 30) + 40;
    const y0 = Math.floor(p / columns) * (h + 70) + 50;
    const last = kind.sizes.at(-1)!;
    const x = (size: number): number => x0 + (w * size) / last;
    const y = (m: number): number => y0 + h - (h * m) / 100;
    const lines = curves.map((c) => {
      const dash = dashes[VARIANTS.findIndex(([label]) => label === c.label)];
      const points = c.marks.map((m, k) => `${x(kind.sizes[k]!).toFixed(1)},${y(m).toFixed(1)}`).join(' ');
      return `<polyline points="${points}" fill="none" stroke="#223" stroke-width="1.6" stroke-dasharray="${dash}"/>`;
    });
    const grid = [0, 50, 100].map(
      (m) =>
        `<line x1="${x0}" x2="${x0 + w}" y1="${y(m)}" y2="${y(m)}" stroke="#ccc"/><text x="${x0 - 4}" y="${y(m) + 4}" text-anchor="end">${m}</text>`,
    );
    return [
      ...grid,
      ...lines,
      `<text x="${x0}" y="${y0 - 8}" font-weight="bold">${kind.name}</text>`,
      `<text x="${x0}" y="${y0 + h + 16}">0</text>`,
      `<text x="${x0 + w}" y="${y0 + h + 16}" text-anchor="end">${last} ${kind.unit}</text>`,
    ].join('\n');
  });
  const rows = Math.ceil(all.length / columns);
  const [width, height] = [columns * (w + 30) + 40, rows * (h + 70) + 60];
  const legend = VARIANTS.map(
    ([label], k) =>
      `<line x1="${40 + k * 190}" x2="${75 + k * 190}" y1="20" y2="20" stroke="#223" stroke-width="1.6" stroke-dasharray="${dashes[k]}"/><text x="${82 + k * 190}" y="24">${label}</text>`,
  );
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" font-family="sans-serif" font-size="11"><rect width="100%" height="100%" fill="#fff"/>${legend.join('')}${panels.join('\n')}</svg>\n`;
}
