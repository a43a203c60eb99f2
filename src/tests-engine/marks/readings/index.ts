import type { Advice } from '../types.ts';
import { beatReadings } from './beat.ts';
import { displaced } from './displaced.ts';
import { type Evidence, Sayings } from './evidence.ts';
import { gapReadings } from './gaps.ts';
import { transposed, wrongNotes } from './pitch.ts';
import { repeatReadings } from './repeats.ts';

/** An unclear note is mentioned last. */
const UNCLEAR_POINTS = 0.01;

/** What a musician would say of the take, most costly first; empty where there is nothing to say. */
export function readings(ev: Evidence): Advice[] {
  const out = new Sayings();
  repeatReadings(ev, out);
  transposed(ev, out);
  displaced(ev, out);
  wrongNotes(ev, out);
  gapReadings(ev, out);
  beatReadings(ev, out);
  const unclear = ev.verdicts.filter((v) => v.unclear).length;
  if (unclear > 0) out.say('unclear', UNCLEAR_POINTS * unclear, { count: unclear });
  return out.all.sort((a, b) => b.points - a.points).map(({ code, values }) => ({ code, values }));
}
