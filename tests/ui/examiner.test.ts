import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { CHART_SEC, PREPARE_SEC } from '../../src/tests-engine/index.ts';
import { LANGUAGES, MESSAGES, speak, t, type Language } from '../../src/ui/messages.ts';
import SPOKEN from '../../src/ui/sitting/voice/spoken.json';

const FOLDER = join(import.meta.dirname, '../../src/ui/sitting/voice');
/** By key, with the numbers that our own setup has. */
const SENTENCES: Readonly<Record<string, () => string>> = {
  'sitting.say.reading': () => t('sitting.say.reading', { seconds: PREPARE_SEC }),
  'sitting.say.improvising': () => t('sitting.say.improvising', { seconds: CHART_SEC }),
};

describe('what the examiner says', () => {
  afterAll(() => speak('en'));
  it.each(Object.keys(LANGUAGES) as Language[])(
    'is recorded in %s word for word as it stands on the page; run audio-fixtures/app-sounds/examiner.ts where a sentence has changed',
    async (language) => {
      await speak(language);
      const own: Readonly<Record<string, string>> = SPOKEN[language];
      const said = Object.keys(MESSAGES).filter((key) => key.startsWith('sitting.say.'));
      expect(said.length).toBeGreaterThan(10);
      for (const key of said) {
        const name = key.slice('sitting.say.'.length);
        expect(own[name], key).toBe((SENTENCES[key] ?? (() => t(key as 'sitting.say.next')))());
        const path = join(FOLDER, `examiner-${language}-${name}.mp3`);
        expect(existsSync(path), path).toBe(true);
        // A sentence, not silence nor a chapter.
        expect(statSync(path).size).toBeGreaterThan(3_000);
        expect(statSync(path).size).toBeLessThan(60_000);
      }
    },
  );
});
