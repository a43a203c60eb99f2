/** By its own path, so that a screen that keeps records need not load what makes sound. */
export { LISTENER_VERSION } from '../dsp/version.ts';
