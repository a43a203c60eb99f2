import { mount } from 'svelte';
import './styles/fonts.css';
import './styles/tokens.css';
import './styles/base.css';
import './styles/print.css';
import App from './App.svelte';
import { keepOffline } from './pwa.ts';
import { loadSettings } from './settings/settings.svelte.ts';

const target = document.getElementById('app');
if (!target) throw new Error('index.html has no element with the id "app"');
await loadSettings();
mount(App, { target });
keepOffline();
