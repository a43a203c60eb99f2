/** How long sound takes from the context to the loudspeaker, as the browser says. */
export interface OutputLatency {
  /** Seconds; 0 until it is known, and where the browser does not say. */
  readonly sec: number;
  /** Passes on what opens a device; nothing is read meanwhile. */
  during<T>(opening: Promise<T>): Promise<T>;
}

/** After the sound runs: until then some browsers say 0. */
const AFTER_MS = 1000;

/**
 * Reads it once and keeps it, a second after the sound runs and never while a device opens: Firefox on Linux stands still
 * when it is read while a microphone opens (3 of 4 runs, Firefox 153 over a sound server, 2026-11).
 */
export function outputLatencyOf(
  context: Pick<AudioContext, 'state' | 'outputLatency' | 'addEventListener'>,
): OutputLatency {
  let known: number | null = null;
  let opening = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const look = (): void => {
    timer = undefined;
    if (context.state !== 'running') return;
    if (opening > 0) return plan();
    known = context.outputLatency || 0;
  };
  function plan(): void {
    if (known === null) timer ??= setTimeout(look, AFTER_MS);
  }
  context.addEventListener('statechange', plan);
  plan();
  return {
    get sec() {
      return known ?? 0;
    },
    async during(work) {
      opening += 1;
      try {
        return await work;
      } finally {
        opening -= 1;
      }
    },
  };
}
