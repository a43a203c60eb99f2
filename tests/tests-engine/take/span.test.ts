import { describe, expect, it } from 'vitest';
import { countedSpan, handlerOf, markTask, OPEN_SPAN, takeOf } from '../../../src/tests-engine/index.ts';
import type { HeardTake } from '../../../src/music/notes.ts';
import { performedSec } from '../../../src/music/time.ts';
import { cents, db, midi, sec } from '../../../src/music/units.ts';
import { plain } from '../procedure/some-tests.ts';

const note = (onsetSec: number, pitch = 57) => ({
  onsetSec: sec(onsetSec),
  offsetSec: sec(onsetSec + 0.2),
  midi: midi(pitch),
  cents: cents(0),
  levelDb: db(-20),
  confidence: 1,
});
const heard = (notes: HeardTake['notes']): HeardTake => ({
  notes,
  tuningCents: cents(0),
  heard: { verdict: 'ok', reason: null },
});
const BEAT_ONE = 3.1;
const LATENCY = 0.12;
const played = plain.phrase.notes.map((n) =>
  note(BEAT_ONE + LATENCY + performedSec(n.startTicks, plain), n.midi),
);

describe('what of a recording is the take', () => {
  it('counts times from beat 1 as the player heard it', () => {
    const take = takeOf(heard(played), { beatOneSec: BEAT_ONE, latencySec: LATENCY }, OPEN_SPAN);
    expect(take.notes[0]!.onsetSec).toBeCloseTo(0, 9);
    expect(take.notes[0]!.offsetSec).toBeCloseTo(0.2, 9);
    expect(take.notes.at(-1)!.onsetSec).toBeCloseTo(performedSec(2880, plain), 9);
  });
  it('leaves out notes tried in the count-in, so that they cost nothing', () => {
    const eager = [note(BEAT_ONE - 1.4), note(BEAT_ONE - 0.8)];
    const zero = { beatOneSec: BEAT_ONE, latencySec: LATENCY };
    const span = handlerOf(plain).span(plain);
    expect(markTask(plain, takeOf(heard([...eager, ...played]), zero, span)).mark).toBe(100);
    expect(markTask(plain, takeOf(heard([...eager, ...played]), zero, OPEN_SPAN)).mark).toBeLessThan(95);
  });
  it('keeps a first note that is eager and a last one that is late', () => {
    const span = countedSpan(0.6, 4);
    const times = [-0.31, -0.29, 0, 4.59, 4.61];
    const take = takeOf(heard(times.map((t) => note(t))), { beatOneSec: 0, latencySec: 0 }, span);
    expect(take.notes.map(({ onsetSec }) => onsetSec)).toEqual([-0.29, 0, 4.59]);
  });
});
