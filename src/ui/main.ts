import { mount } from 'svelte';
import './styles/fonts.css';
import './styles/tokens.css';
import './styles/base.css';
import './styles/print.css';
import App from './App.svelte';
import { loadSettings } from './settings/settings.svelte.ts';
import { showInOwn } from './state/language.svelte.ts';

const target = document.getElementById('app');
if (!target) throw new Error('index.html has no element with the id "app"');
// A browser without what the app needs has been told so by `needs.js`; no top-level await, which is younger than the rest.
const start = async (): Promise<void> => {
  await loadSettings();
  await showInOwn();
  mount(App, { target });
};
if (!('missing' in document.documentElement.dataset)) void start();
