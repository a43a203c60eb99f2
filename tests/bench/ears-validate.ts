import { loadBanks, takeSet } from '../../audio-fixtures/index.ts';
import type { TakeRecipe } from '../../audio-fixtures/index.ts';
import { accept } from '../../src/dsp/decision/accept.ts';
import { heardNotes } from '../../src/dsp/hear/heardNotes.ts';
import { nameNotes } from '../../src/dsp/hear/name.ts';
import { THRESHOLD } from '../../src/dsp/hear/segment.ts';
import { addTallies, f1, matchNotes, tally, timing } from '../support/fixtures/note-metrics.ts';
import type { Tally } from '../support/fixtures/note-metrics.ts';
import { analysed, lessonsOf } from '../../src/training/collect.ts';
import type { Lesson } from '../../src/training/collect.ts';
import { SEEDS } from '../../src/training/options.ts';
import { chancesOf, PROTOCOLS } from '../../src/training/protocols.ts';
import type { Protocol } from '../../src/training/protocols.ts';

/**
 * How well notes are heard by a decision that was fitted on other takes, or on other instruments:
 *   npx tsx tests/bench/ears-validate.ts [takes|banks …] [--misses]
 * Note F1 (onset and pitch, naming and tuning included) by condition. The whole development set and the set
 * beside it are heard; measurements are kept in .cache/ears.
 */
/** Where a slide begins is a convention: left out of what is pooled at 25 ms. */
const NO_INSTANT = 'glide';
/** Pooled with and without: what it adds must not hide what it costs the others. */
const EFFECT = 'gate';
const POOLS: Record<string, (family: string) => boolean> = {
  all: () => true,
  'all but glide': (family) => family !== NO_INSTANT,
  'nor gate': (family) => family !== NO_INSTANT && family !== EFFECT,
};

interface Sure {
  readonly said: number;
  readonly right: boolean;
}

function hear(
  recipe: TakeRecipe,
  lesson: Lesson,
  chances: Float64Array,
): { counts: Tally; sure: Sure[]; wrong: string[] } {
  const { analysis, truth } = analysed(recipe, lesson);
  const of = new Map(analysis.possible.map((p, i) => [p, chances[i]]));
  const named = nameNotes(
    analysis,
    accept(analysis.possible, (p) => of.get(p)!, THRESHOLD),
    { pitchless: 'kept' },
  );
  const { notes } = heardNotes(named, 1);
  const right = new Set(matchNotes(truth, notes, 0.05));
  const onsets = matchNotes(truth, notes, 0.05, Infinity);
  const wrong = truth.flatMap((note, i) => {
    const its = notes[onsets[i]!];
    if (its === undefined)
      return [`missed ${note.onsetSec.toFixed(2)} ${note.midi} (${note.levelDb.toFixed(0)} dB)`];
    return its.midi === note.midi ? [] : [`heard ${its.midi} for ${note.onsetSec.toFixed(2)} ${note.midi}`];
  });
  const matched = new Set(onsets);
  notes.forEach((note, i) => {
    if (!matched.has(i)) wrong.push(`extra ${note.onsetSec.toFixed(2)} ${note.midi}`);
  });
  return {
    counts: tally(truth, notes),
    sure: notes.map(({ confidence }, i) => ({ said: confidence, right: right.has(i) })),
    wrong,
  };
}

function row(name: string, all: Tally): string {
  const t = timing(all);
  const figure = (value: number | null): string => (value === null ? '–' : value.toFixed(4)).padStart(7);
  return [
    name.padEnd(14),
    String(all.truth).padStart(5),
    figure(f1(all.hits50, all)),
    figure(f1(all.hits25, all)),
    figure(f1(all.onsetHits, all)),
    String(all.truth - all.onsetHits).padStart(5),
    String(all.heard - all.onsetHits).padStart(5),
    String(all.onsetHits - all.hits50).padStart(5),
    String(all.octaves).padStart(6),
    (t ? (1000 * t.biasSec).toFixed(1) : '–').padStart(5),
    (t ? (1000 * t.spreadSec).toFixed(1) : '–').padStart(5),
  ].join(' ');
}

const asked = process.argv.slice(2).filter((arg) => arg !== '--misses');
for (const name of asked)
  if (!Object.hasOwn(PROTOCOLS, name))
    throw new RangeError(`there are ${Object.keys(PROTOCOLS).join(' and ')}, got ${name}`);
const { all: banks } = await loadBanks();
const recipes = SEEDS.flatMap((seed) => takeSet(banks, seed));
const lessons = lessonsOf(recipes);
for (const name of Object.keys(PROTOCOLS) as Protocol[]) {
  const { what } = PROTOCOLS[name];
  if (asked.length > 0 && !asked.includes(name)) continue;
  const chances = chancesOf(lessons, name);
  const families = new Map<string, Tally[]>();
  const sure: Sure[] = [];
  recipes.forEach((recipe, i) => {
    if (lessons[i]!.negative) return;
    const heard = hear(recipe, lessons[i]!, chances[i]!);
    const pools = Object.keys(POOLS).filter((pool) => POOLS[pool]!(recipe.family));
    for (const group of [recipe.family, ...pools])
      families.set(group, [...(families.get(group) ?? []), heard.counts]);
    sure.push(...heard.sure);
    if (process.argv.includes('--misses') && heard.wrong.length > 0)
      console.log(`${recipe.id}: ${heard.wrong.join('; ')}`);
  });
  console.log(`\n${what}, ${recipes.length} takes`);
  console.log('condition      notes   F ±50   F ±25 onsets50 miss extra wrong octave  bias  spr.');
  for (const [family, counts] of families)
    if (!Object.hasOwn(POOLS, family)) console.log(row(family, addTallies(counts)));
  for (const group of Object.keys(POOLS)) console.log(row(group, addTallies(families.get(group) ?? [])));
  console.log('confidence     notes  said  right');
  const edges = [0, 0.5, 0.7, 0.8, 0.9, 0.95, 0.99, 1.0001];
  for (let i = 0; i + 1 < edges.length; i++) {
    const bin = sure.filter(({ said }) => said >= edges[i]! && said < edges[i + 1]!);
    if (bin.length === 0) continue;
    const mean = bin.reduce((sum, { said }) => sum + said, 0) / bin.length;
    const right = bin.filter((s) => s.right).length / bin.length;
    console.log(
      `${edges[i]!.toFixed(2)}–${Math.min(1, edges[i + 1]!).toFixed(2)} ${String(bin.length).padStart(9)} ${mean.toFixed(3)}  ${right.toFixed(3)}`,
    );
  }
}
