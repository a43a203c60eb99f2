import type { Help } from '../../tests-engine/index.ts';
import { t } from '../messages.ts';

const WORDS: Readonly<Record<Help['kind'], string>> = {
  repeat: t('help.repeat'),
  again: t('help.repeat'),
  firstNote: t('help.first-note'),
  slower: t('help.slower'),
  half: t('help.halves'),
};

/** The help that was used, each kind once: "heard again, slower"; null when there was none. */
export function helpWords(help: readonly Help[]): string | null {
  const words = [...new Set(help.map(({ kind }) => WORDS[kind]))];
  return words.length === 0 ? null : words.join(', ');
}
