import type { Phrase } from '../../../music/score.ts';
import { barTicks } from '../../../music/metre.ts';
import type { Advice, ReadingEvent } from '../../marks/index.ts';

/** What happened on the page as sentences; a place is the number of its first written note, from 1. */
export function placeFacts(events: readonly ReadingEvent[], phrase: Phrase): Advice[] {
  const bar = barTicks(phrase.metre);
  const firstOf = (number: number): number =>
    Math.max(
      0,
      phrase.notes.findIndex(({ startTicks }) => startTicks >= (number - 1) * bar),
    ) + 1;
  return events.map((event): Advice => {
    switch (event.kind) {
      case 'stopped':
        return {
          code: 'paused',
          values: { note: noteAt(phrase, event.bar, event.beat), beats: event.beats },
        };
      case 'wentBack':
        return { code: 'restarted', values: { note: firstOf(event.bar) } };
      case 'leftOut':
        return event.bar === event.toBar
          ? { code: 'left-out', values: { bar: event.bar } }
          : { code: 'left-out-bars', values: { bar: event.bar, toBar: event.toBar } };
      case 'drifted':
        return {
          code: event.percent > 0 ? 'speeding-up' : 'slowing-down',
          values: { percent: Math.abs(event.percent) },
        };
      case 'ended': {
        const last = phrase.notes.findLastIndex(({ startTicks }) => startTicks < event.bar * bar);
        return { code: 'stopped', values: { note: last + 1, count: phrase.notes.length - 1 - last } };
      }
    }
  });
}

/** Number of the first note at or after a counted beat of a bar. */
function noteAt({ metre, notes }: Phrase, bar: number, beat: number): number {
  const at = (bar - 1) * barTicks(metre) + ((beat - 1) * barTicks(metre)) / metre.beats;
  const found = notes.findIndex(({ startTicks }) => startTicks >= at);
  return (found < 0 ? notes.length - 1 : found) + 1;
}
