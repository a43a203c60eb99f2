import { expect, it } from 'vitest';
import { change, loadSettings, settings } from '../../src/ui/settings/settings.svelte.ts';

it('takes what another tab has chosen, and does not bring its own old choice back with the next change', async () => {
  let kept: object = {};
  let tell: (kept: unknown) => void = () => undefined;
  await loadSettings({
    read: () => Promise.resolve(kept),
    write: (now) => {
      kept = now;
      return Promise.resolve();
    },
    watch: (changed) => {
      tell = changed;
      return () => undefined;
    },
  });
  change({ level: 3 });
  tell({ ...settings.now, language: 'de' });
  expect(settings.now.language).toBe('de');
  change({ level: 4 });
  expect(kept).toMatchObject({ language: 'de', level: 4 });
  // What another program wrote there is checked as on the first day.
  tell({ language: 'no such', level: 4 });
  expect(['en', 'de', 'es']).toContain(settings.now.language);
});
