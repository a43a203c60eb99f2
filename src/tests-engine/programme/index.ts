/** What comes next. */
export {
  DRILL_FIGURES,
  DRILL_INTERVALS,
  FIRST_DRILL,
  drillSchema,
  drillTest,
  isDrill,
  shareOf,
  shareOfFigure,
  type Drill,
  type DrillPlayer,
} from './drill.ts';
export { coming, likeIt, setQuestion, type Coming, type Programme } from './programme.ts';
export { wayOf, type Way } from './item.ts';
export { readStanding, type Standing } from './standing.ts';
