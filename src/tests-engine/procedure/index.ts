/** The procedure of a task: two keys, a plan of steps, one take. */
export type { Half, SheetOptions } from './options.ts';
export type { Ask, Hear, Plan, PlannedStep, PlanSettings, Play, Prepare, SheetName } from './plan.ts';
export { DEFAULT_SETTINGS, parseSettings, SLOWEST, type Manner, type ProcedureSettings } from './settings.ts';
export type {
  Help,
  ProcedureCommand,
  ProcedureEvent,
  ProcedureState,
  Step,
  Stepped,
  Take,
  VoidReason,
} from './state.ts';
export { startProcedure, step } from './step.ts';
