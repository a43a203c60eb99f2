import { mount } from 'svelte';
import './styles/fonts.css';
import './styles/tokens.css';
import './styles/base.css';
import './styles/print.css';
import App from './App.svelte';
import { keepOffline } from './pwa.ts';
import { loadSettings, settings } from './settings/settings.svelte.ts';
import { showIn } from './state/language.svelte.ts';

const target = document.getElementById('app');
if (!target) throw new Error('index.html has no element with the id "app"');
await loadSettings();
await showIn(settings.now.language);
mount(App, { target });
keepOffline();
