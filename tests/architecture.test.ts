import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

/**
 * The import rules of the house (DEVELOPERS.md). A forbidden import fails here and says why.
 * `own` lists what a folder may import from `src`; `packages` the npm packages it may touch.
 */
interface Rule {
  readonly own: readonly string[];
  readonly packages: readonly string[];
  /** A tool of Node that sees the insides of the rooms it may import, the fixtures and the benches' scenes. */
  readonly whole?: boolean;
  /** Folders of which only types may be taken. */
  readonly typesOf?: readonly string[];
  /** Globals that would make a pure folder impure, or couple it to the DOM. */
  readonly never?: readonly RegExp[];
}

const IMPURE = [
  /\bDate\.now\b/,
  /\bnew Date\b/,
  /\bMath\.random\b/,
  /\bperformance\.now\b/,
  /\bsetTimeout\b/,
  /\bdocument\./,
  /\bwindow\./,
];

const RULES: Record<string, Rule> = {
  music: { own: ['music'], packages: ['valibot', 'tonal'], never: IMPURE },
  dsp: { own: ['music', 'dsp'], packages: ['pitchy', 'fft.js'], never: IMPURE },
  'tests-engine': {
    own: ['music', 'tests-engine'],
    packages: ['tonal', 'valibot'],
    never: IMPURE,
  },
  // Makes what dsp has learnt, and so knows its insides; the recorded notes and scenes lie outside src.
  training: { own: ['music', 'dsp', 'training'], packages: [], whole: true },
  notation: { own: ['music', 'notation'], packages: [], never: IMPURE },
  exchange: {
    own: ['music', 'notation', 'exchange'],
    typesOf: ['tests-engine'],
    packages: [
      'valibot',
      'fflate',
      '@tonejs/midi',
      'midi-file',
      'wavefile',
      'saxes',
      'papaparse',
      'qrcode-generator',
    ],
    never: [/\bdocument\./, /\bwindow\./],
  },
  store: {
    own: ['music', 'exchange', 'store'],
    typesOf: ['tests-engine', 'studio'],
    packages: ['dexie', 'valibot'],
  },
  // One record on many machines: what it keeps and asks is handed in.
  studio: {
    own: ['exchange', 'studio'],
    packages: ['@hpke/core', 'valibot'],
    never: [/\bdocument\./, /\bwindow\./, /\bindexedDB\b/, /\blocalStorage\b/],
  },
  // Calls into workers.
  workers: { own: ['workers'], packages: ['comlink'] },
  audio: { own: ['music', 'dsp', 'workers', 'audio'], packages: ['tone', 'signalsmith-stretch', 'comlink'] },
  // A step of the build: what is served is listed with its licences.
  building: { own: ['building'], packages: ['vite'] },
  cli: {
    own: ['music', 'dsp', 'tests-engine', 'exchange', 'audio/render', 'cli'],
    packages: ['node-web-audio-api', 'valibot', 'esbuild', 'tsx'],
  },
  ui: {
    own: ['music', 'notation', 'tests-engine', 'exchange', 'store', 'studio', 'workers', 'audio', 'ui'],
    typesOf: ['dsp'],
    packages: [
      'svelte',
      'comlink',
      'vexflow',
      'svguitar',
      '@fontsource/atkinson-hyperlegible-next',
      '@fontsource/literata',
      '@vexflow-fonts/bravura',
      'virtual:pwa-register',
      'virtual:pwa-register/svelte',
      'valibot',
    ],
  },
};

/** Rooms that run in Node. */
const NODE = ['cli', 'training', 'building'];

const SRC = resolve(import.meta.dirname, '../src');

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return filesBelow(path);
    return /\.(ts|svelte|js)$/.test(entry.name) ? [path] : [];
  });
}

interface Import {
  readonly specifier: string;
  readonly typeOnly: boolean;
}

export function importsOf(source: string): Import[] {
  const code = source.replace(/\/\*[\s\S]*?\*\//g, '').replace(/(^|[^:'"])\/\/.*$/gm, '$1');
  const found: Import[] = [];
  for (const m of code.matchAll(
    /(?:^|[\s;>])(?:import|export)\s+(type\s+)?(?:[\w*${},\s]+?\s+from\s+)?['"]([^'"]+)['"]/g,
  ))
    found.push({ specifier: m[2]!, typeOnly: Boolean(m[1]) });
  for (const m of code.matchAll(/\bimport\(\s*['"]([^'"]+)['"]\s*\)/g))
    found.push({ specifier: m[1]!, typeOnly: false });
  return found;
}

/** What may be taken from a room beside its door: types and single numbers that must not bring the room with them. */
const BESIDE_THE_DOOR = [/^audio\/(types|listenerVersion)\.ts$/, /^audio\/render\//, /^dsp\/version\.ts$/];

/** Whether a file of another room is reached through a door: an `index.ts`. `music` has none, as all may import it. */
const throughDoor = (room: string, target: string): boolean =>
  target.startsWith(`${room}/`) ||
  target.startsWith('music/') ||
  /\bindex\.ts$/.test(target) ||
  BESIDE_THE_DOOR.some((one) => one.test(target));

/** Every reason why `path` (relative to src) may not hold `source`; empty when all is well. */
export function violations(path: string, source: string): string[] {
  const room = path.split('/')[0]!;
  const rule = RULES[room];
  if (!rule)
    return [`${path}: no rule for src/${room}; add one to tests/architecture.test.ts and DEVELOPERS.md`];
  const bad: string[] = [];
  for (const { specifier, typeOnly } of importsOf(source)) {
    const bare = specifier.split('?')[0]!;
    if (bare.startsWith('.')) {
      const target = relative(SRC, resolve(SRC, dirname(path), bare));
      if (rule.whole && /^(\.\.\/(audio-fixtures|tests\/bench\/bleed|tests\/support)|dsp)\//.test(target))
        continue;
      if (target.startsWith('..')) bad.push(`${path} reaches outside src: ${specifier}`);
      else if (!throughDoor(room, target)) bad.push(`${path} imports ${target} beside the door of its room`);
      else if (rule.own.some((own) => target === own || target.startsWith(`${own}/`))) continue;
      else if (typeOnly && rule.typesOf?.some((own) => target.startsWith(`${own}/`))) continue;
      else
        bad.push(
          `${path} imports ${target}, but ${room} may import only ${rule.own.join(', ') || 'nothing'} from src`,
        );
    } else if (bare.startsWith('node:')) {
      if (!NODE.includes(room)) bad.push(`${path} imports ${bare}: only ${NODE.join(', ')} touch Node`);
    } else if (!rule.packages.some((name) => bare === name || bare.startsWith(`${name}/`)))
      bad.push(
        `${path} imports ${bare}, but ${room} may import only ${rule.packages.join(', ') || 'no package'}`,
      );
  }
  for (const pattern of rule.never ?? []) {
    const code = source.replace(/\/\*[\s\S]*?\*\//g, '').replace(/\/\/.*$/gm, '');
    if (pattern.test(code))
      bad.push(
        `${path} uses ${pattern.source}: ${room} is pure (clock, randomness and DOM come in as arguments)`,
      );
  }
  return bad;
}

/** Groups of files of which none can be understood without the others: imports of types count. */
export function circles(imports: ReadonlyMap<string, readonly string[]>): string[][] {
  const found: string[][] = [];
  const number = new Map<string, number>();
  const lowest = new Map<string, number>();
  const open: string[] = [];
  const visit = (file: string): void => {
    number.set(file, number.size);
    lowest.set(file, number.get(file)!);
    open.push(file);
    for (const next of imports.get(file) ?? []) {
      if (!number.has(next)) visit(next);
      if (open.includes(next)) lowest.set(file, Math.min(lowest.get(file)!, lowest.get(next)!));
    }
    if (lowest.get(file) !== number.get(file)) return;
    const group = open.splice(open.indexOf(file));
    if (group.length > 1) found.push(group.sort());
  };
  for (const file of imports.keys()) if (!number.has(file)) visit(file);
  return found;
}

/** What a file takes from others, types too. */
function needs(file: string): string[] {
  return importsOf(readFileSync(file, 'utf8'))
    .filter(({ specifier }) => specifier.startsWith('.'))
    .map(({ specifier }) => resolve(dirname(file), specifier.split('?')[0]!));
}

/** Kinds of task, by their folders. */
const KINDS = readdirSync(join(SRC, 'tests-engine/tasks'), { withFileTypes: true })
  .filter((entry) => entry.isDirectory() && entry.name !== 'heard')
  .map(({ name }) => name);

/** Places that ask for a kind of task by its name: only a kind's own folder may. Named tables with a line a kind do it. */
export function asksForAKind(path: string, source: string): string[] {
  if (/^tests-engine\/tasks\/\w+\//.test(path)) return [];
  const names = KINDS.join('|');
  const asks = new RegExp(
    `\\bkind\\)?\\s*[!=]==\\s*'(?:${names})'|'(?:${names})'\\s*[!=]==\\s*\\w*\\.?kind\\b|switch \\([\\w.]*kind\\) \\{\\s*case '(?:${names})'`,
    'g',
  );
  return [...source.matchAll(asks)].map(
    ([found]) =>
      `${path}: ${found}: what hangs on a kind of task belongs to its handler, or to a table with a line a kind (music/kinds.ts)`,
  );
}

describe('the import rules', () => {
  it('find no circle of files', () => {
    const imports = new Map(filesBelow(SRC).map((file) => [file, needs(file)]));
    expect(circles(imports).map((group) => group.map((file) => relative(SRC, file)))).toEqual([]);
    const knot = { a: ['b'], b: ['c'], c: ['b', 'd'], d: [], e: ['a'] };
    expect(circles(new Map(Object.entries(knot)))).toEqual([['b', 'c']]);
  });
  it('let no file but a kind’s own handler ask for a kind of task by name', () => {
    expect(KINDS).toEqual(expect.arrayContaining(['melody', 'rhythm', 'reading']));
    const all = filesBelow(SRC).flatMap((file) =>
      asksForAKind(relative(SRC, file), readFileSync(file, 'utf8')),
    );
    expect(all).toEqual([]);
    for (const bad of [
      "if (test.kind === 'melody') x();",
      "a = kind !== 'rhythm';",
      "switch (task.kind) {\n  case 'reading':",
    ])
      expect(asksForAKind('ui/a.ts', bad), bad).toHaveLength(1);
    expect(asksForAKind('tests-engine/tasks/melody/index.ts', "kind === 'melody'")).toEqual([]);
  });
  it('hold in every file of src', () => {
    const all = filesBelow(SRC).flatMap((file) =>
      violations(relative(SRC, file), readFileSync(file, 'utf8')),
    );
    expect(all).toEqual([]);
  });
  it('catch the cores meeting, a library behind the wrong door, Node in the browser, a clock in a pure folder', () => {
    expect(violations('dsp/a.ts', "import { x } from '../tests-engine/index.ts';")[0]).toMatch(
      /dsp may import only/,
    );
    expect(violations('ui/a.svelte', "<script>\nimport * as Tone from 'tone';</script>")[0]).toMatch(
      /imports tone/,
    );
    expect(violations('audio/a.ts', "import fs from 'node:fs';")[0]).toMatch(
      /only cli, training, building touch Node/,
    );
    expect(violations('tests-engine/a.ts', 'const t = Date.now();')[0]).toMatch(/pure/);
    expect(violations('ui/a.ts', "import { hear } from '../dsp/index.ts';")[0]).toMatch(/ui may import only/);
    expect(
      violations('store/a.ts', "import type { Mark } from '../tests-engine/marks/types.ts';")[0],
    ).toMatch(/beside the door/);
    expect(violations('ui/a.ts', "import type { Hearing } from '../dsp/index.ts';")).toEqual([]);
  });
});
