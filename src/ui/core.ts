/**
 * The record, the test being taken and what goes on between them: all that the first page does without until it has
 * been drawn. Fetched by `state/core.svelte.ts`.
 */
export { default as Notices } from './components/Notices.svelte';
export { default as OpenLines } from './components/OpenLines.svelte';
export { default as Player } from './components/Player.svelte';
export { keepOffline } from './pwa.ts';
export { followLaunches } from './given/system.ts';
export { leftOff } from './programme/standing.svelte.ts';
export { homeworks } from './record/homework.svelte.ts';
export { keeper, record } from './record/record.svelte.ts';
export { session } from './session.svelte.ts';
export { begin } from './session/begin.ts';
export { prepareFor } from './session/choose.ts';
export { sittingDesk } from './sitting/now.ts';
export { whenReady } from './state/ready.ts';
