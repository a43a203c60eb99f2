import type { PageQuestion } from '../../tests-engine/index.ts';
import { t, type MessageKey } from '../messages.ts';
import { noteName } from '../names.ts';

const key = (name: string): MessageKey & 'questions.title' => name as MessageKey & 'questions.title';

function signature(fifths: number): string {
  if (fifths === 0) return t('questions.signature.none');
  return fifths > 0
    ? t('questions.signature.sharps', { count: fifths })
    : t('questions.signature.flats', { count: -fifths });
}

/** A choice of a question in words; lengths by the British or American names of the settings. */
export function choiceWords({ asking }: Pick<PageQuestion, 'asking'>, token: string): string {
  switch (asking) {
    case 'name':
      return noteName(token);
    case 'signature':
      return signature(Number(token));
    case 'metre': {
      const [beats, unit] = token.split(' ');
      return t(`questions.metre.${unit}` as MessageKey & 'questions.metre.4', { beats: Number(beats) });
    }
    case 'again':
      return t('questions.again', { bar: Number(token) });
    case 'value':
    case 'interval':
    case 'tempo':
    case 'sign':
      return t(key(`questions.${asking}.${token}`));
  }
}

/** What is asked, as a sentence. */
export function questionWords({ asking, bar, note, about }: PageQuestion): string {
  const shown =
    about === null
      ? ''
      : asking === 'tempo'
        ? about[0]!.toUpperCase() + about.slice(1)
        : ['p', 'mp', 'mf', 'f'].includes(about)
          ? about
          : t(key(`questions.about.${about}`));
  return t(
    `questions.ask.${asking}` as MessageKey & 'questions.ask.value',
    {
      bar: bar ?? 0,
      note: note ?? 0,
      about: shown,
    } as { bar: number; note: number },
  );
}
