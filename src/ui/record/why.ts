import type { Choice } from '../../tests-engine/index.ts';
import { fill, MESSAGES, PART_WORDS, t } from '../messages.ts';

/** "Why this one?" in a sentence. */
export function whyText({ code, part, values }: Choice['why']): string {
  const tests = values['intervalTests'] ?? 1;
  return fill(MESSAGES[`why.${code}`], {
    ...values,
    times: Math.min(9, Math.round((values['partPercent'] ?? 0) / 10)),
    part: part === null ? '' : PART_WORDS[part],
    intervalTests: t('why.interval', { tests }),
  });
}
