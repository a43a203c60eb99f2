import { allBanks } from './banks.ts';
import { lessonsOf } from './collect.ts';
import { fitLooks } from './looks.ts';
import { lessonRecipes } from './options.ts';
import { writeData } from './data.ts';

/**
 * Fits both looks of "was that a pluck?":
 *   npm run fit -- decision
 */
const all = await allBanks();
const lessons = lessonsOf(lessonRecipes(all));
const count = (label: 0 | 1): number =>
  lessons.reduce((sum, l) => sum + l.labels.filter((is) => is === label).length, 0);
writeData(
  'decision/weights.json',
  `Fitted by \`npm run fit -- decision\` on ${lessons.length} takes: ${count(1)} plucks and ${count(0)} other candidates.`,
  fitLooks(lessons),
);
