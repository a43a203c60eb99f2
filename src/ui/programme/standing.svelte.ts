import { record } from '../record/record.svelte.ts';
import { LeftOff } from './leftOff.svelte.ts';

/** Where the player of this browser left off. */
export const leftOff = new LeftOff(record);
