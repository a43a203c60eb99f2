import type { Component } from 'svelte';
import type { Route } from './state/route.svelte.ts';

/** All pages but the first are fetched after it (and kept for use offline). */
const LATER = {
  test: () => import('./screens/Test.svelte'),
  check: () => import('./screens/SoundCheck.svelte'),
  practice: () => import('./screens/Practice.svelte'),
  teacher: () => import('./screens/Teacher.svelte'),
  read: () => import('./screens/ReadingPage.svelte'),
  chords: () => import('./screens/ChordsPage.svelte'),
  scales: () => import('./screens/ScalesPage.svelte'),
  improvise: () => import('./screens/ImprovisePage.svelte'),
  questions: () => import('./screens/QuestionsPage.svelte'),
  piece: () => import('./screens/PiecePage.svelte'),
  sitting: () => import('./screens/SittingPage.svelte'),
  plan: () => import('./screens/PlanPage.svelte'),
  progress: () => import('./screens/Progress.svelte'),
  data: () => import('./screens/Data.svelte'),
  given: () => import('./screens/GivenPage.svelte'),
  homework: () => import('./screens/HomeworkPage.svelte'),
  who: () => import('./screens/Who.svelte'),
  studio: () => import('./screens/StudioPage.svelte'),
  results: () => import('./screens/ResultsLink.svelte'),
  phrases: () => import('./screens/phrases/PhrasesPage.svelte'),
  settings: () => import('./screens/Preferences.svelte'),
  about: () => import('./screens/About.svelte'),
  licences: () => import('./screens/Licences.svelte'),
} as const;

/** Fetches a page, once; asked again it answers from memory. */
export type Fetch = () => Promise<{ readonly default: Component }>;

/** How to fetch the page of an address; null for the first page, and where there is none. */
export function laterPage({ hash, name }: Route): Fetch | null {
  const page = hash.startsWith('homework=')
    ? 'homework'
    : hash.startsWith('results=')
      ? 'results'
      : hash.startsWith('test=')
        ? 'phrases'
        : name;
  return Object.hasOwn(LATER, page) ? LATER[page as keyof typeof LATER] : null;
}

/** The page of a test: fetched with the record, before a test can be begun. */
export const TEST: Fetch = LATER.test;
/** Pages of every lesson and every day's practice, and the others. */
export const OFTEN: readonly Fetch[] = [LATER.check, LATER.practice, LATER.teacher, LATER.progress];
export const SELDOM: readonly Fetch[] = Object.values(LATER).filter((page) => !OFTEN.includes(page));
