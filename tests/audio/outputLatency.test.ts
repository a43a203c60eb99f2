import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { outputLatencyOf } from '../../src/audio/outputLatency.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

function context(state: AudioContextState) {
  const changed: (() => void)[] = [];
  const made = {
    state,
    reads: 0,
    get outputLatency() {
      made.reads += 1;
      return 0.042;
    },
    addEventListener: (_: string, listener: () => void) => void changed.push(listener),
    now(next: AudioContextState) {
      made.state = next;
      changed.forEach((listener) => listener());
    },
  };
  return made;
}
const outputOf = (made: ReturnType<typeof context>) =>
  outputLatencyOf(made as unknown as Parameters<typeof outputLatencyOf>[0]);

it('is read once, a second after the sound runs', () => {
  const made = context('suspended');
  const output = outputOf(made);
  vi.advanceTimersByTime(5000);
  expect([output.sec, made.reads]).toEqual([0, 0]);
  made.now('running');
  vi.advanceTimersByTime(999);
  expect(made.reads).toBe(0);
  vi.advanceTimersByTime(2);
  expect([output.sec, made.reads]).toEqual([0.042, 1]);
  made.now('suspended');
  made.now('running');
  for (let i = 0; i < 50; i++) expect(output.sec).toBe(0.042);
  vi.advanceTimersByTime(5000);
  expect(made.reads).toBe(1);
});

it('is not read while a microphone opens, but after that', async () => {
  const made = context('running');
  const output = outputOf(made);
  let open: () => void = () => undefined;
  const opening = output.during(new Promise<void>((resolve) => (open = resolve)));
  vi.advanceTimersByTime(10_000);
  expect(made.reads).toBe(0);
  open();
  await opening;
  vi.advanceTimersByTime(1000);
  expect([output.sec, made.reads]).toEqual([0.042, 1]);
  // One that fails to open holds nothing up either.
  const again = context('running');
  const other = outputOf(again);
  await expect(other.during(Promise.reject(new Error('no')))).rejects.toThrow('no');
  vi.advanceTimersByTime(1000);
  expect(other.sec).toBe(0.042);
});
