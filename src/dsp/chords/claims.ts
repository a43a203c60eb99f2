import type { ShapeEvidence } from './evidence.ts';
import type { ChordFindings, ChordVerdict } from '../../music/chords/heard.ts';

/** Lines on log-odds. An accusation has to lie far out in the tail; in between nothing is said. */
export interface Thresholds {
  /** A class asked for is missing under this. */
  readonly missing: number;
  /** A foreign class sounds over this. */
  readonly foreign: number;
  /** A chord note under the bass sounds over this. */
  readonly lower: number;
  /** The bass itself is silent under this. */
  readonly bassSilent: number;
  /** For a yes every class asked for is over this … */
  readonly yesPresent: number;
  /** … and every foreign one under this. */
  readonly yesForeign: number;
}

export function claimsOf(evidence: ShapeEvidence, lines: Thresholds): ChordFindings {
  const missing = [...evidence.asked].filter(([, z]) => z < lines.missing).map(([pitchClass]) => pitchClass);
  const foreign = [...evidence.foreign]
    .filter(([, z]) => z > lines.foreign)
    .map(([pitchClass]) => pitchClass);
  const { lower } = evidence;
  return {
    missing,
    foreign,
    lowerNote: lower !== null && lower.logOdds > lines.lower ? lower.midi : null,
    bassSilent: evidence.bass < lines.bassSilent,
    another: missing.length >= 2 && foreign.length >= 2,
  };
}

export const nothingClaimed = ({ missing, foreign, lowerNote, bassSilent }: ChordFindings): boolean =>
  missing.length === 0 && foreign.length === 0 && lowerNote === null && !bassSilent;

/** Yes, no, or neither sure enough for the one nor for the other. */
export function verdictOf(evidence: ShapeEvidence, findings: ChordFindings, lines: Thresholds): ChordVerdict {
  if (!nothingClaimed(findings)) return 'no';
  const present = [...evidence.asked.values()].every((z) => z > lines.yesPresent);
  const alone = [...evidence.foreign.values()].every((z) => z < lines.yesForeign);
  return present && alone ? 'yes' : 'cannot-tell';
}

/** How mild a shape's claims are: fewer, then weaker. Smaller is milder. */
export function severity(evidence: ShapeEvidence, lines: Thresholds): number {
  let worst = lines.missing - Math.min(...evidence.asked.values());
  for (const z of evidence.foreign.values()) worst = Math.max(worst, z - lines.foreign);
  if (evidence.lower) worst = Math.max(worst, evidence.lower.logOdds - lines.lower);
  return Math.max(worst, lines.bassSilent - evidence.bass);
}
