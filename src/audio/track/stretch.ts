/**
 * Slower at the same pitch, by Signalsmith Stretch (MIT; npm signalsmith-stretch): its own processor, made for an audio
 * thread, is fed here block by block, so that a whole recording is made ahead, in a worker, under the page's strict policy
 * (which lets no WebAssembly run in a worklet). Fetched only when something is slowed down (114 kB).
 */

/** The part of an AudioWorkletProcessor that the library uses. */
interface Processor {
  readonly port: FakePort;
  process(inputs: Float32Array[][][], outputs: Float32Array[][]): boolean;
}
type ProcessorClass = new (options: object) => Processor;

interface FakePort {
  onmessage: ((event: { data: unknown[] }) => void) | null;
  postMessage(message: unknown): void;
}

/** Samples a call: larger than an audio thread's 128, since nobody waits. */
const BLOCK = 1024;

/** What the library finds where it looks for an audio thread's globals. */
interface WorkletScope {
  AudioWorkletProcessor?: unknown;
  registerProcessor?: unknown;
  sampleRate?: number | undefined;
  currentTime?: number | undefined;
}

let loading: Promise<ProcessorClass> | null = null;
const scope = globalThis as unknown as WorkletScope;

function load(): Promise<ProcessorClass> {
  loading ??= (async () => {
    let found: ProcessorClass | null = null;
    const before = { base: scope.AudioWorkletProcessor, register: scope.registerProcessor };
    scope.AudioWorkletProcessor = class {
      readonly port: FakePort = { onmessage: null, postMessage: () => undefined };
    };
    scope.registerProcessor = (_: string, made: ProcessorClass) => (found = made);
    try {
      await import('signalsmith-stretch');
    } finally {
      scope.AudioWorkletProcessor = before.base;
      scope.registerProcessor = before.register;
    }
    if (!found) throw new Error('the time-stretch library registered no processor');
    return found;
  })();
  return loading;
}

/**
 * @param stretch 1…4: 2 is twice as long @returns `stretch` times as many samples, mono, same pitch
 * @throws RangeError for a stretch out of range
 */
export async function stretched(
  samples: Float32Array,
  sampleRate: number,
  stretch: number,
): Promise<Float32Array<ArrayBuffer>> {
  if (!(stretch >= 0.5 && stretch <= 4))
    throw new RangeError(`a recording is stretched 0.5 to 4 times, got ${stretch}`);
  const Made = await load();
  const length = Math.round(samples.length * stretch);
  const out = new Float32Array(length);
  const before = { sampleRate: scope.sampleRate, currentTime: scope.currentTime };
  scope.sampleRate = sampleRate;
  scope.currentTime = 0;
  try {
    const processor = new Made({ numberOfInputs: 0, numberOfOutputs: 1, outputChannelCount: [1] });
    const waiting = new Map<unknown, (value: unknown) => void>();
    const ready = new Promise<void>((done) => waiting.set('ready', () => done()));
    processor.port.postMessage = (message) => {
      const [id, value] = message as [unknown, unknown];
      waiting.get(id)?.(value);
    };
    await ready;
    let serial = 0;
    const call = (name: string, ...args: unknown[]): Promise<unknown> =>
      new Promise((done) => {
        const id = ++serial;
        waiting.set(id, done);
        processor.port.onmessage!({ data: [id, name, ...args] });
      });
    await call('addBuffers', [samples]);
    await call('schedule', { active: true, input: 0, output: 0, rate: 1 / stretch });
    // It makes up for its own delay: what it gives at a time belongs to that time.
    const block = new Float32Array(BLOCK);
    for (let at = 0; at < length; at += BLOCK) {
      scope.currentTime = at / sampleRate;
      processor.process([], [[block]]);
      out.set(block.subarray(0, Math.min(BLOCK, length - at)), at);
    }
    return out;
  } finally {
    scope.sampleRate = before.sampleRate;
    scope.currentTime = before.currentTime;
  }
}
