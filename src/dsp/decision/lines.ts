import type { Line } from './line.ts';
import data from './lines.json' with { type: 'json' };

/**
 * Is a note right, onset within 50 ms and pitch within 50 cents? And is it a plucked string? `made` in the file says by
 * which command and on what both were fitted.
 */
export const CONFIDENCE_LINE: Line = data.confidence;
export const INSTRUMENT_LINE: Line = data.instrument;
