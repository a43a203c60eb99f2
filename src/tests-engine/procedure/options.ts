export type Half = 'first' | 'second';

/** How a sheet departs from the task as it was set. All of these are help and only the relaxed manner has them. */
export interface SheetOptions {
  /** Times the phrase is sounded; the task's own number by default; 1…10. */
  readonly repeat?: number;
  /** 1 = the task's tempo, 0.5 = half as fast; 0.25…1.5. */
  readonly tempoFactor?: number;
  readonly half?: Half | null;
  /** How the count is given; `click` where the language has no voice. */
  readonly count?: 'spoken' | 'click';
}
