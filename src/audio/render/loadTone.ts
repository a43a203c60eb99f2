import type * as Parts from './tone.ts';

export type ToneParts = typeof Parts;

let loading: Promise<ToneParts> | null = null;

/**
 * Imports Tone, once. In a browser pass null. Where Web Audio is not global (Node) pass the object that holds
 * its constructors: Tone's base library takes them from a global `window` while it is imported, so that is
 * there for just as long.
 */
export function loadTone(nativeApi: object | null): Promise<ToneParts> {
  // Else Tone greets on the console.
  (globalThis as { TONE_SILENCE_LOGGING?: boolean }).TONE_SILENCE_LOGGING = true;
  loading ??= nativeApi === null ? import('./tone.ts') : importWith(nativeApi);
  return loading;
}

async function importWith(nativeApi: object): Promise<ToneParts> {
  const host = globalThis as { window?: unknown };
  if (host.window !== undefined) throw new TypeError('nativeApi is only for hosts without a window');
  host.window = { ...nativeApi };
  try {
    return await import('./tone.ts');
  } finally {
    delete host.window;
  }
}
