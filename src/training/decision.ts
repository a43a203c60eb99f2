import { allBanks } from './banks.ts';
import { lessonsOf } from './collect.ts';
import { fitLooks } from './looks.ts';
import { lessonRecipes, SEEDS } from './options.ts';
import { writeLooks } from './write.ts';

/**
 * Fits both looks of "was that a pluck?" and writes `src/dsp/decision/weights.ts`:
 *   npm run fit -- decision [firstSeed …]
 * The seeds default to the development set's and one more set like it.
 */
const given = process.argv.slice(2).map(Number);
const seeds = given.length > 0 ? given : SEEDS;
const all = await allBanks();
const lessons = lessonsOf(lessonRecipes(all, seeds));
const count = (label: 0 | 1): number =>
  lessons.reduce((sum, l) => sum + l.labels.filter((is) => is === label).length, 0);
const made = `Fitted by \`npm run fit -- decision ${seeds.join(' ')}\`: ${lessons.length} takes, ${count(1)} plucks, ${count(0)} other candidates.`;
writeLooks(fitLooks(lessons), made);
console.log(made);
