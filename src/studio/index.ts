/** The door of the studio's client: pure of browser and record; clock, network and record are handed in. */
export { StudioProblem } from './api.ts';
export type { Fetch, StudioProblemCode } from './api.ts';
export * from './membership.ts';
export { fetchSound, hasSound, sendSounds } from './sound.ts';
export type { LocalSounds, OwnSound, Sound } from './sound.ts';
export type { SoundState } from './wire.ts';
export { syncOnce } from './sync.ts';
export type { Round, SyncEdges } from './sync.ts';
export type { Change, Cursor, HeldKey, Incoming, Local, Membership, Version } from './local.ts';
