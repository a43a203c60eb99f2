/** What comes next. */
export { drillTest, shareOf, shareOfFigure, type DrillPlayer } from './drill.ts';
export {
  DRILL_FIGURES,
  DRILL_INTERVALS,
  drillSchema,
  FIRST_DRILL,
  isDrill,
  type Drill,
} from './drillSchema.ts';
export { coming, likeIt, setQuestion, type Coming, type Programme } from './programme.ts';
export { wayOf, type Way } from './item.ts';
export { readStanding, type Standing } from './standing.ts';
