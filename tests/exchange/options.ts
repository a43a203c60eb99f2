import type { PracticeTest } from '../../src/music/score.ts';
import { ExchangeError } from '../../src/exchange/index.ts';
import { expect } from 'vitest';

/** Options that bring a test's own phrase back. */
export const likeThe = ({ kind, instrument, tuning, style }: PracticeTest) => ({
  kind,
  instrument,
  tuning,
  style,
});

export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** What sounds when, with or without its spelling. */
export const sounding = (test: PracticeTest) =>
  test.phrase.notes.map((n) => [n.startTicks, n.durationTicks, n.midi] as const);

/** One sentence for the file's owner. */
export function refuses(read: () => unknown, message: RegExp): void {
  expect(read).toThrow(ExchangeError);
  expect(read).toThrow(message);
  try {
    read();
  } catch (error) {
    expect((error as Error).message).toMatch(/^[A-Z][^\n]+\.$/);
  }
}
