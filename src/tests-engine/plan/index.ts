/** What is foretold of a sitting, and what to practise until the day of the exam. */
export { estimateUnit, LEAST_TAKES, type UnitEstimate } from './estimate.ts';
export {
  planDays,
  sittingMinutes,
  type PlanDay,
  type PlanItem,
  type PlanReason,
  type PlanRequest,
} from './days.ts';
export { evidenceFrom, planUnits } from './units.ts';
export type { Evidence, KeptRun, Unit, UnitKind } from './types.ts';
