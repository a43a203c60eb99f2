import { strumSet } from '../../audio-fixtures/chords/index.ts';
import { writeLevels } from './chords/levels.ts';

/**
 * Fits everything that hearing chords learns: `npm run fit -- chords`. Needs Debian's fluid-soundfont-gm and freepats.
 *
 * Levels of partials first; then inputs are made with them; then the network is fitted, thresholds and calibration being chosen on
 * instruments that were left out, a fold at a time.
 */
const SEEDS = [1, 2];
const STRUMS = 2600;
const RIGHT_SHARE = 0.45;

await writeLevels();
// Only now: what follows reads the levels when it is loaded.
const { lessonsOf } = await import('./chords/lessons.ts');
const { fitDecision } = await import('./chords/decision.ts');
const lessons = [];
for (const seed of SEEDS)
  lessons.push(
    ...lessonsOf(`fit-${seed}`, await strumSet({ which: 'fit', seed, count: STRUMS, right: RIGHT_SHARE })),
  );
fitDecision(lessons);
