import { describe, expect, it } from 'vitest';
import type { HeardTake } from '../../../src/music/notes.ts';
import { cents, db, midi, sec } from '../../../src/music/units.ts';
import { performedSec } from '../../../src/music/time.ts';
import { makeReading, markTask } from '../../../src/tests-engine/index.ts';
import { ofNotes } from '../../../src/tests-engine/marks/anyMark.ts';

/** These notes of a page, from its first on, each at its time and so much later; as the ear would hand them on. */
function heard(level: number, seed: number, falseNotes: number): number | null {
  const task = makeReading({ level, seed, instrument: seed % 2 ? 'bass' : 'guitar', click: false });
  const notes = task.phrase.notes.map((note) => ({
    atSec: performedSec(note.startTicks, task),
    midi: note.midi,
  }));
  const pauseSec = (4 * task.phrase.metre.beats * 60 * 4) / (task.phrase.metre.beatUnit * task.tempoBpm);
  const all = [...notes.slice(0, falseNotes).map((n) => ({ ...n, atSec: n.atSec - pauseSec })), ...notes];
  const take: HeardTake = {
    tuningCents: cents(0),
    heard: { verdict: 'ok', reason: null },
    notes: all.map((note) => ({
      onsetSec: sec(note.atSec + pauseSec + 1),
      offsetSec: sec(note.atSec + pauseSec + 1.2),
      midi: midi(note.midi),
      cents: cents(0),
      levelDb: db(-20),
      confidence: 1,
    })),
  };
  return ofNotes(markTask(task, take))?.mark ?? null;
}

describe('a false start of one note, four bars before the take', () => {
  it.each([1, 4, 7, 10])('costs nothing on pages of level %i, however long, seeds 0…14', (level) => {
    for (let seed = 0; seed < 15; seed++) {
      expect(heard(level, seed, 0), `seed ${seed}`).toBe(100);
      expect(heard(level, seed, 1), `seed ${seed}`).toBe(100);
    }
  });
});
