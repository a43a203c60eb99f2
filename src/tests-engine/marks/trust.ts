/** Confidence under which a note counts for nothing, and from which it counts in full. */
export const TRUST_NONE = 0.3;
export const TRUST_FULL = 0.7;

/** How far (0…1) a note of this confidence may be held against the student. */
export const trustIn = (confidence: number): number =>
  Math.max(0, Math.min(1, (confidence - TRUST_NONE) / (TRUST_FULL - TRUST_NONE)));
