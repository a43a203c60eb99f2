/** Half of the strip's fixed scale, ms: twice the 60 to 75 at which a note begins to count as off, and a semiquaver at 100. */
export const STRIP_MS = 150;
/** Where the strip has ticks. */
export const STRIP_TICKS = [100, 50, 0, -50, -100] as const;

/** "+96", "−130", "0": whole ms with a true minus sign. */
export function signed(ms: number): string {
  const whole = Math.round(ms);
  return whole === 0 ? '0' : `${whole < 0 ? '−' : '+'}${Math.abs(whole)}`;
}

/** Where a note stands on the strip, −1 (early, or earlier) … 1 (late, or later), and whether it lies beyond. */
export function onStrip(ms: number): { readonly share: number; readonly beyond: boolean } {
  return { share: Math.max(-1, Math.min(1, ms / STRIP_MS)), beyond: Math.abs(ms) > STRIP_MS };
}
