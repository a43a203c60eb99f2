import type { TestKind } from '../../music/score.ts';
import type { Wanted } from './gain.ts';
import type { Knowledge } from './knowledge.ts';
import type { PartId } from './parts.ts';

/** Why this one; the sentence stands in `ui/messages.ts` under the code. */
export type WhyCode =
  | 'first' // nothing known yet
  | 'weak-part' // brings back what goes wrong: `part`, `testsSince`, `intervalTests`
  | 'level-up' // higher than any of the last three: what is practised has become easy
  | 'level-down' // lower than any of them: it is too hard as yet
  | 'about-right'; // nothing is due; about four in five succeed
export interface Why {
  readonly code: WhyCode;
  /** The due part that the test brings most of; null: none. */
  readonly part: PartId | null;
  /** `percent`: chance of "there". With `weak-part` also `partPercent`: chance of a usual note with the part. */
  readonly values: Readonly<Record<string, number>>;
}

export function why(
  { levels, returns }: Knowledge,
  kind: TestKind,
  { level, chance }: { level: number; chance: number },
  part: Wanted | null,
): Why {
  const percent = Math.round(100 * chance);
  const lately = levels[kind];
  if (lately.length === 0) return { code: 'first', part: null, values: { percent } };
  if (level > Math.max(...lately)) return { code: 'level-up', part: part?.part ?? null, values: { percent } };
  if (level < Math.min(...lately))
    return { code: 'level-down', part: part?.part ?? null, values: { percent } };
  if (part === null) return { code: 'about-right', part: null, values: { percent } };
  const { wait, since } = returns[part.channel][part.bit]!;
  return {
    code: 'weak-part',
    part: part.part,
    values: {
      percent,
      partPercent: Math.round(100 * part.chance),
      testsSince: since + 1,
      intervalTests: wait,
    },
  };
}
