import { describe, expect, it } from 'vitest';
import { BAR2, BEAT, codes, faults, lostSum, mark, moved, TUNE } from './takes.ts';

/** Hand-written takes of each thing that students do, with what a musician would say of it. */
describe('a take against the backing', () => {
  it('played as written is right, with nothing lost', () => {
    const m = mark(TUNE);
    expect(m).toMatchObject({ mark: 100, outcome: 'there', advice: { code: 'all-right' }, readings: [] });
    expect(faults(m)).toEqual([]);
  });

  it('with a wrong note in the right place has that note wrong and nothing else', () => {
    const m = mark(TUNE.map((n, k) => (k === 7 ? { ...n, midi: 67 } : n)));
    expect(faults(m)).toEqual(['wrong 7']);
    expect(m.readings).toEqual([{ code: 'wrong-note', values: { note: 8, bar: 2, beat: 2, semitones: 2 } }]);
    expect(m.lost.rhythm).toBe(0);
    expect(m.mark).toBeGreaterThan(90);
  });

  it('with a note left out has that note missed and the rest in place', () => {
    const m = mark(TUNE.filter((_, k) => k !== 7));
    expect(faults(m)).toEqual(['missed 7']);
    expect(codes(m)).toEqual(['missed-note']);
  });

  it('with a note put in has one extra note', () => {
    const m = mark([...TUNE.slice(0, 4), { onsetSec: 1.5, midi: 66 }, ...TUNE.slice(4)]);
    expect(faults(m)).toEqual(['extra -']);
    expect(m.readings[0]).toEqual({ code: 'extra-note', values: { note: 4, bar: 1, beat: 3 } });
  });

  it('with a beat repeated has gone back to that beat, and the rest keeps step', () => {
    const again = TUNE.slice(4).map((n) => ({ ...n, onsetSec: n.onsetSec + BEAT }));
    const m = mark([...TUNE.slice(0, 6), ...again]);
    expect(m.readings[0]).toEqual({ code: 'restarted', values: { note: 5, bar: 1, beat: 4, count: 2 } });
    expect(codes(m)).toHaveLength(1);
    expect(m.verdicts.filter((v) => v.repeated)).toHaveLength(2);
    expect(m.verdicts.filter((v) => v.kind === 'wrong' || v.kind === 'missed')).toEqual([]);
  });

  it('restarted from bar 1 has gone back to the beginning', () => {
    const again = TUNE.map((n) => ({ ...n, onsetSec: n.onsetSec + 4 * BEAT }));
    const m = mark([...TUNE.slice(0, 6), ...again]);
    expect(m.readings).toEqual([{ code: 'restarted', values: { note: 1, bar: 1, beat: 1, count: 6 } }]);
    expect(m.verdicts.filter((v) => v.kind === 'right')).toHaveLength(12);
  });

  it('that hesitates and catches up has hesitated at that place', () => {
    const late: Record<number, number> = { 6: 0.4, 7: 0.25, 8: 0.1 };
    const m = mark(TUNE.map((n, k) => ({ ...n, onsetSec: n.onsetSec + (late[k] ?? 0) })));
    expect(m.readings[0]).toMatchObject({ code: 'hesitated', values: { bar: 2, beat: 1 } });
    expect(m.verdicts.filter((v) => v.kind === 'missed' || v.kind === 'extra')).toEqual([]);
  });

  it('a beat late from bar 2 on is one mistake, not six', () => {
    const m = mark(moved(BAR2, 12, BEAT));
    expect(m.readings).toEqual([{ code: 'shifted-late', values: { note: 7, bar: 2, beat: 1, beats: 1 } }]);
    expect(faults(m)).toEqual(['late 6']);
    expect(m.lost.rhythm).toBe(0);
    expect(m.lost.pulse).toBeCloseTo(lostSum(m), 5);
  });

  it('with one bar shifted by a beat has that stretch late and the rest right', () => {
    const target = [0, 1, 2, 3, 4, 4.5, 5, 6, 8, 9, 10, 11].map((beat, k) => ({
      onsetSec: beat * BEAT,
      midi: TUNE[k]!.midi,
    }));
    const m = mark(moved(4, 8, BEAT, target), { target });
    expect(m.readings).toEqual([
      { code: 'stretch-late', values: { note: 5, bar: 2, beat: 1, count: 4, beats: 1 } },
    ]);
    expect(faults(m)).toEqual(['late 4']);
  });

  it('two notes brushed together, the second one first, are both right', () => {
    const at = (fourth: number, fifth: number): typeof TUNE =>
      TUNE.map((n, k) =>
        k === 4 || k === 5 ? { ...n, onsetSec: TUNE[5]!.onsetSec + (k === 4 ? fourth : fifth) } : n,
      );
    const together = at(-0.1, -0.09);
    const swapped = at(-0.09, -0.1);
    const m = mark(swapped);
    expect(m.verdicts.map((v) => v.targetIndex).sort((a, b) => a! - b!)).toEqual(TUNE.map((_, k) => k));
    expect(m.verdicts.map((v) => v.kind)).not.toContain('wrong');
    // Ten milliseconds, twelve notes: 0.12 points for each of the two.
    expect(mark(together).mark! - m.mark!).toBeLessThan(2.5);
  });

  it('an octave higher throughout is the right notes in another octave', () => {
    const high = TUNE.map((n) => ({ ...n, midi: n.midi + 12 }));
    const m = mark(high);
    expect(m.readings).toEqual([{ code: 'octave-off', values: { octaves: 1 } }]);
    expect(faults(m)).toEqual(['wrong 0']);
    expect(mark(high, { transposition: 'octave' })).toMatchObject({ mark: 100, transposedBy: 12 });
  });

  it('the right tune from the wrong first note is that, not twelve wrong notes', () => {
    const m = mark(TUNE.map((n) => ({ ...n, midi: n.midi + 2 })));
    expect(m.readings).toEqual([{ code: 'wrong-start', values: { semitones: 2 } }]);
    expect(faults(m)).toEqual(['wrong 0']);
    expect(m.outcome).toBe('close');
  });

  it('that slips a semitone down at bar 2 has moved from there on', () => {
    const m = mark(TUNE.map((n, k) => (k >= BAR2 ? { ...n, midi: n.midi - 1 } : n)));
    expect(m.readings[0]).toMatchObject({ code: 'moved-pitch', values: { bar: 2, beat: 1, semitones: -1 } });
  });

  it('right notes with a wrong rhythm lose nothing on notes', () => {
    const gaps = [0.3, 0.6, 0.3, 0.15, 0.45, 0.6, 0.3, 0.3, 0.9, 0.15, 0.15];
    let at = 0;
    const m = mark(TUNE.map((n, k) => ({ ...n, onsetSec: k === 0 ? 0 : (at += gaps[k - 1]!) })));
    expect(codes(m)).toEqual(['wrong-rhythm']);
    expect(m.lost.notes).toBe(0);
    expect(m.verdicts.filter((v) => ['wrong', 'missed', 'extra'].includes(v.kind))).toEqual([]);
  });

  it.each([
    ['late', 1, 'came-in-late'],
    ['early', -1, 'came-in-early'],
  ] as const)('started a beat %s has come in so and kept step', (_, beats, code) => {
    const m = mark(moved(0, 12, beats * BEAT));
    expect(m.readings).toEqual([{ code, values: { beats: 1 } }]);
    expect(m.verdicts.filter((v) => v.kind === 'right')).toHaveLength(11);
  });

  it('that stops halfway keeps what was played', () => {
    const m = mark(TUNE.slice(0, 6));
    expect(m.readings).toEqual([{ code: 'stopped', values: { note: 6, bar: 1, beat: 4, count: 6 } }]);
    expect(m.mark).toBe(50);
    expect(m.lost.continuity).toBe(50);
  });

  it('that joins in after the start keeps what was played', () => {
    const m = mark(TUNE.slice(4));
    expect(m.readings[0]).toMatchObject({ code: 'joined-late', values: { note: 5, count: 4 } });
  });

  it('evenly 120 ms behind is steady, not uneven', () => {
    const m = mark(moved(0, 12, 0.12));
    expect(m.readings).toEqual([{ code: 'steady-late', values: { ms: 120 } }]);
    expect(m.timing).toMatchObject({ biasMs: 120, unevennessMs: 0 });
  });

  it('scattered around the beat is uneven, without bias', () => {
    const ms = [-110, 100, -90, 120, 20, -100, 110, -100, 90, -100, 100, -90];
    const m = mark(TUNE.map((n, k) => ({ ...n, onsetSec: n.onsetSec + ms[k]! / 1000 })));
    expect(codes(m)).toEqual(['uneven']);
    expect(Math.abs(m.timing.biasMs!)).toBeLessThan(40);
    expect(m.timing.unevennessMs).toBeGreaterThan(80);
  });

  it('that gets faster has sped up', () => {
    const m = mark(TUNE.map((n) => ({ ...n, onsetSec: n.onsetSec * (1 - 0.02 * n.onsetSec) })));
    expect(codes(m)).toEqual(['speeding-up']);
    expect(m.lost.pulse).toBeGreaterThan(m.lost.rhythm);
  });

  it('with one note late names it with its bar, beat and ms', () => {
    const m = mark(moved(4, 5, 0.12));
    expect(m.readings).toEqual([{ code: 'note-late', values: { note: 5, bar: 1, beat: 4, ms: 120 } }]);
  });
});

describe('a take at its own tempo', () => {
  const free = { clock: 'free' } as const;

  it('costs nothing for its tempo and start', () => {
    const m = mark(
      TUNE.map((n) => ({ ...n, onsetSec: 17 + n.onsetSec * 1.3 })),
      free,
    );
    expect(m.mark).toBe(100);
    expect(m.timing.tempoRatio).toBeCloseTo(1 / 1.3, 2);
  });

  it('that pauses before bar 2 has paused, and goes on right', () => {
    const m = mark(moved(BAR2, 12, BEAT), free);
    expect(m.readings[0]).toMatchObject({ code: 'paused', values: { bar: 2, beat: 1 } });
    expect(m.outcome).toBe('there');
  });

  it('that restarts has gone back to the beginning', () => {
    const again = TUNE.map((n) => ({ ...n, onsetSec: n.onsetSec + 4 * BEAT }));
    expect(codes(mark([...TUNE.slice(0, 6), ...again], free))).toEqual(['restarted']);
  });

  it('in another key is right where any key is allowed, and a wrong start where none is', () => {
    const other = TUNE.map((n) => ({ ...n, midi: n.midi - 4.6 }));
    const m = mark(other, { ...free, transposition: 'any' });
    expect(m.mark).toBe(100);
    expect(m.transposedBy).toBeCloseTo(-4.6, 1);
    expect(codes(mark(other, free))).toEqual(['wrong-start']);
  });

  it('with one note late has that note late, though two durations are wrong', () => {
    const m = mark(moved(4, 5, 0.12), free);
    expect(faults(m)).toEqual(['late 4']);
    expect(codes(m)).toEqual(['note-late']);
    expect(m.lost.notes).toBe(0);
  });

  it('a rhythm of even taps is a wrong rhythm, not there yet', () => {
    const bare = TUNE.map(({ onsetSec }) => ({ onsetSec }));
    const m = mark(
      bare.map((_, k) => ({ onsetSec: k * 0.35 })),
      { ...free, target: bare },
    );
    expect(codes(m)[0]).toBe('wrong-rhythm');
    expect(m.outcome).not.toBe('there');
    expect(m.verdicts.filter((v) => v.kind === 'missed' || v.kind === 'extra')).toEqual([]);
  });
});
