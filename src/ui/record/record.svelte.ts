import { DIGEST_VERSION, practised } from '../../tests-engine/index.ts';
import { t } from '../messages.ts';
import { settings } from '../settings/settings.svelte.ts';
import { followCard } from './card.ts';
import { Disk } from './disk.svelte.ts';
import { doubt } from './doubt.ts';
import { TakeKeeper } from './keeper.svelte.ts';
import { Players } from './players.svelte.ts';
import { UnsavedTakes } from './unsavedTakes.svelte.ts';

/** 128 random bits, as the record's own ids. */
const newId = (): string =>
  Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join(
    '',
  );

/** Resolves when the page is on screen. */
const visible = (): Promise<void> =>
  new Promise((resolve) => {
    const look = (): void => {
      if (document.visibilityState !== 'visible') return;
      document.removeEventListener('visibilitychange', look);
      resolve();
    };
    document.addEventListener('visibilitychange', look);
    look();
  });

/** The record of this browser. */
export const record: Disk = new Disk({
  // Fetched beside the first page, not before it.
  open: async (onProblem) =>
    (await import('../../store/index.ts')).openStore({
      digest: practised,
      digestVersion: DIGEST_VERSION,
      doubt,
      onProblem: ({ code }) => onProblem(code),
    }),
  read: (store) => players.read(store),
});

/** Who plays. */
export const players: Players = new Players({
  disk: record,
  follow: (card) => followCard({ ...settings.now, ...card }),
  chosen: () => unsaved.retryOrphans(),
  me: () => t('record.me'),
  instrument: () => settings.now.instrument,
  apart: (name, what) => t('player.told-apart', { name, what }),
  instrumentWord: (instrument) => t(`check.instrument.${instrument}`),
});

/** Takes that are not in the record yet. */
export const unsaved: UnsavedTakes = new UnsavedTakes({
  disk: record,
  written: (attempt, marked) => keeper.written(attempt, marked),
});

/** What the session gives its takes to. */
export const keeper: TakeKeeper = new TakeKeeper({
  disk: record,
  unsaved,
  player: () => players.player(),
  chosen: () => players.student,
  usualThresholds: () => players.usualThresholds,
  counts: (manner) => players.counts(manner),
  newId,
  now: Date.now,
  visible,
  askToKeep: () => void import('../../store/index.ts').then(({ askToKeep }) => askToKeep()),
});
