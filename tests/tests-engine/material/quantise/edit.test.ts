import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  changeLength,
  cutTo,
  EDIT_STEPS,
  insertAfter,
  lineOf,
  makeTest,
  METRES,
  movePitch,
  moveStart,
  rangeOf,
  removeNote,
  writeLine,
  type Line,
} from '../../../../src/tests-engine/index.ts';

const END = 3840;
const TUNING = [40, 45, 50, 55, 59, 64];
const note = (startTicks: number, durationTicks: number, midi = 60) => ({ startTicks, durationTicks, midi });
const three: Line = [note(0, 480), note(480, 480, 62), note(1440, 480, 64)];

describe('corrections by hand', () => {
  it('longer takes the rest first, then the start of the next note; never more than a step is left of it', () => {
    expect(changeLength(three, 1, 240, END)[1]).toEqual(note(480, 720, 62));
    const eaten = changeLength(three, 0, 240, END);
    expect(eaten.slice(0, 2)).toEqual([note(0, 720), note(720, 240, 62)]);
    expect(changeLength(eaten, 0, 240, END)).toBe(eaten);
  });
  it('shorter leaves a rest and keeps the note', () => {
    expect(changeLength(three, 0, -240, END)[0]).toEqual(note(0, 240));
    expect(changeLength(three, 0, -480, END)).toBe(three);
  });
  it('a note moves between its neighbours and not through them', () => {
    expect(moveStart(three, 2, -240, END)[2]).toEqual(note(1200, 480, 64));
    expect(moveStart(three, 1, -240, END).slice(0, 2)).toEqual([note(0, 240), note(240, 480, 62)]);
    expect(moveStart(three, 0, -240, END)).toBe(three);
    expect(moveStart(three, 2, 2400, END)).toBe(three);
  });
  it('a new note comes into the rest behind, or takes the second half', () => {
    expect(insertAfter(three, 1, 240, END)[2]).toEqual(note(960, 240, 62));
    expect(insertAfter(three, 0, 240, END).slice(0, 2)).toEqual([note(0, 240), note(240, 240)]);
  });
  it('a phrase keeps its last note, and no note leaves the instrument', () => {
    expect(removeNote([note(0, 480)], 0)).toHaveLength(1);
    const [low, high] = rangeOf(TUNING);
    expect([low, high]).toEqual([40, 88]);
    expect(movePitch([note(0, 480, low)], 0, -1, [low, high])[0]!.midi).toBe(low);
  });
  it('fewer bars cut what lies behind', () => {
    expect(cutTo(three, 1600)).toEqual([three[0], three[1], note(1440, 160, 64)]);
  });
  it('whatever is done, in any order, a phrase stays one: in order, inside its bars, on the instrument', () => {
    const action = fc.tuple(
      fc.constantFrom('pitch', 'length', 'start', 'remove', 'insert'),
      fc.nat(12),
      fc.constantFrom(...EDIT_STEPS),
      fc.boolean(),
    );
    fc.assert(
      fc.property(fc.nat(500), fc.array(action, { maxLength: 60 }), (seed, actions) => {
        let line: Line = lineOf(makeTest({ kind: 'melody', level: 3, seed, instrument: 'guitar' }).phrase);
        for (const [what, i, step, up] of actions) {
          const by = up ? step : -step;
          if (what === 'pitch') line = movePitch(line, i, up ? 12 : -1, rangeOf(TUNING));
          if (what === 'length') line = changeLength(line, i, by, END);
          if (what === 'start') line = moveStart(line, i, by, END);
          if (what === 'remove') line = removeNote(line, i);
          if (what === 'insert') line = insertAfter(line, i, step, END);
        }
        let free = 0;
        for (const { startTicks, durationTicks } of line) {
          if (startTicks < free || durationTicks <= 0) return false;
          free = startTicks + durationTicks;
        }
        const phrase = writeLine(line, {
          metre: METRES['4/4'],
          bars: 2,
          key: { tonic: 'Eb', scale: 'minor' },
          tuning: TUNING,
        });
        return free <= END && phrase.notes.length === line.length && line.length > 0;
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });
});

describe('spelling of notes outside the key', () => {
  const spell = (tonic: string, scale: string, ...pitches: number[]) =>
    writeLine(
      pitches.map((midi, i) => note(i * 240, 240, midi)),
      { metre: METRES['4/4'], bars: 2, key: { tonic, scale }, tuning: TUNING },
    ).notes.map(({ spelling }) => spelling);
  it('raises before a step up, lowers before a step down, else goes with the key', () => {
    expect(spell('C', 'major', 60, 61, 62, 61, 60)).toEqual(['C4', 'C#4', 'D4', 'Db4', 'C4']);
    expect(spell('F', 'major', 65, 61, 65, 68, 65)).toEqual(['F4', 'Db4', 'F4', 'Ab4', 'F4']);
    expect(spell('E', 'major', 64, 60, 64)).toEqual(['E4', 'B#3', 'E4']);
  });
  it('takes what a pentatonic leaves out from the scale around it', () => {
    expect(spell('A', 'minor pentatonic', 57, 59, 65, 57)).toEqual(['A3', 'B3', 'F4', 'A3']);
  });
});
