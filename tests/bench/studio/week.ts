import { makeRandom } from '../../../audio-fixtures/random.ts';

/** A device in the load: the desks of two teachers and the phones of three students make a studio of the bench. */
export type Kind = 'desk' | 'phone';

/** What a device asks of the server, and when in the week, hours. */
export interface Event {
  readonly atHour: number;
  readonly device: number;
  readonly what: 'push' | 'pull';
}

/** From noon of Monday, so that a bench cut short meets an afternoon. */
const BEGINS_HOUR = 12;
/** Students practise in the afternoon and the evening, teachers teach then. */
const PRACTICE = [15, 21.5] as const;
const LESSONS = [14, 20] as const;
/** Stints of practice a week, and takes in one; one every three minutes. */
const STINTS = 6;
const TAKES = 5;
const TAKE_HOURS = 3 / 60;
/**
 * An open app asks every 20 s. The week passes a thousand times too quickly, and so would all that asking: of a desk's
 * one in forty is done, of a phone's one in six. What is pushed is pushed whole.
 */
const ASKS_HOURS = { desk: 800 / 3600, phone: 120 / 3600 } as const;
/** Remarks, notes and homework of a teacher in an hour of lessons. */
const WRITES_AN_HOUR = 6;

/** A week of all devices, in the order of its events. */
export function week(kinds: readonly Kind[], seed: number): Event[] {
  const random = makeRandom(seed);
  const events: Event[] = [];
  const add = (device: number, what: Event['what'], hour: number): void => {
    const atHour = (hour - BEGINS_HOUR + 168) % 168;
    events.push({ atHour, device, what });
  };
  const open = (device: number, kind: Kind, from: number, to: number): void => {
    for (let at = from + random.next() * ASKS_HOURS[kind]; at < to; at += ASKS_HOURS[kind])
      add(device, 'pull', at);
  };
  for (const [device, kind] of kinds.entries())
    if (kind === 'phone')
      for (let stint = 0; stint < STINTS; stint++) {
        const from = random.whole(0, 6) * 24 + random.between(...PRACTICE);
        open(device, kind, from, from + TAKES * TAKE_HOURS);
        for (let take = 1; take <= TAKES; take++) add(device, 'push', from + take * TAKE_HOURS);
      }
    else
      for (let day = 0; day < 5; day++) {
        const from = day * 24 + LESSONS[0] + random.next();
        const to = day * 24 + LESSONS[1] - random.next();
        open(device, kind, from, to);
        for (let n = 0; n < WRITES_AN_HOUR * (to - from); n++) add(device, 'push', random.between(from, to));
      }
  return events.sort((a, b) => a.atHour - b.atHour);
}
