import { describe, expect, it } from 'vitest';
import * as v from 'valibot';
import { practiceTest } from '../../src/music/schema/test.ts';
import { blankPhrase } from '../../src/ui/screens/phrases/blank.ts';
import { Editor } from '../../src/ui/screens/phrases/editor.svelte.ts';
import { pointedAt } from '../../src/ui/screens/phrases/pointed.ts';

describe('a phrase written without playing', () => {
  it.each([
    ['guitar', 'guitar'],
    ['bass', 'bass-five'],
    ['guitar', 'ukulele'],
    ['guitar', 'guitar+3'],
  ] as const)('begins on %s tuned %s with one A that can be played', (instrument, tuningId) => {
    const test = blankPhrase({ instrument, tuningId });
    expect(v.safeParse(practiceTest, test).issues).toBeUndefined();
    expect(test.phrase.notes.map(({ midi }) => midi % 12)).toEqual([9]);
  });
  it('takes letters one after another, each as near as can be, and can be undone', () => {
    const editor = new Editor(blankPhrase({ instrument: 'guitar', tuningId: 'guitar' }), []);
    editor.step = 480;
    for (const pitchClass of [0, 4, 2, 11]) expect(editor.write(pitchClass)).toBe(true);
    const notes = editor.test.phrase.notes;
    expect(notes.map(({ spelling }) => spelling)).toEqual(['A2', 'C3', 'E3', 'D3', 'B2']);
    expect(notes.map(({ startTicks }) => startTicks)).toEqual([0, 480, 960, 1440, 1920]);
    expect(v.safeParse(practiceTest, editor.test).issues).toBeUndefined();
    editor.undo();
    expect(editor.test.phrase.notes).toHaveLength(4);
  });
  it('says no where the bars are full, and keeps what is there', () => {
    const editor = new Editor(blankPhrase({ instrument: 'guitar', tuningId: 'guitar' }), []);
    editor.step = 480;
    let written = 1;
    while (editor.write(4) && written < 20) written += 1;
    expect(written).toBe(8);
    expect(editor.test.phrase.notes).toHaveLength(8);
  });
  it('takes a note where one points: on the staff as the key has it, on the TAB as the open string', () => {
    const blank = blankPhrase({ instrument: 'guitar', tuningId: 'guitar' });
    const test = { ...blank, key: { tonic: 'G', scale: 'major' } };
    const system = {
      ...{ width: 500, height: 300, topY: 100, bottomY: 265 },
      ...{ staff: { topY: 100, gap: 10 }, tab: { topY: 200, gap: 13 } },
      bars: [{ bar: 0, startTicks: 0, endTicks: 1920, startX: 100, endX: 500 }],
      notes: [{ noteIndex: 0, startTicks: 0, x: 110 }],
    };
    const at = (x: number, y: number, mirrored = false) => pointedAt(system, { x, y }, test, 240, mirrored);
    // Bottom line E4, sounding an octave lower; the first space is F, in G major F sharp; one ledger line below is C.
    expect(at(110, 140)).toEqual({ atTicks: 0, midi: 52, onTab: false });
    expect(at(110, 135).midi).toBe(54);
    expect(at(110, 150).midi).toBe(48);
    expect(at(110, 100).midi).toBe(66);
    // Half way to the bar line; the lowest line of the TAB is the lowest string, mirrored the highest.
    expect(at(305, 265)).toEqual({ atTicks: 960, midi: 40, onTab: true });
    expect(at(305, 265, true).midi).toBe(64);
    const bass = blankPhrase({ instrument: 'bass', tuningId: 'bass' });
    expect(pointedAt(system, { x: 110, y: 140 }, bass, 240, false).midi).toBe(31);
  });
  it('writes it there: what sounds ends before it, and where one begins already nothing changes', () => {
    const editor = new Editor(blankPhrase({ instrument: 'guitar', tuningId: 'guitar' }), []);
    editor.step = 480;
    expect(editor.writeAt(1440, 52)).toBe(true);
    expect(editor.writeAt(240, 55)).toBe(true);
    expect(editor.chosen).toBe(1);
    const rows = () =>
      editor.test.phrase.notes.map(({ startTicks, durationTicks, midi }) => [
        startTicks,
        durationTicks,
        midi,
      ]);
    expect(rows()).toEqual([
      [0, 240, 45],
      [240, 480, 55],
      [1440, 480, 52],
    ]);
    const before = rows();
    for (const [atTicks, midi] of [
      [240, 60],
      [960, 20],
      [7680, 50],
    ] as const)
      expect(editor.writeAt(atTicks, midi)).toBe(false);
    expect(rows()).toEqual(before);
    expect(editor.setPitch(57)).toBe(true);
    expect(rows()[1]).toEqual([240, 480, 57]);
    expect(editor.setPitch(57)).toBe(false);
    expect(v.safeParse(practiceTest, editor.test).issues).toBeUndefined();
    editor.undo();
    expect(rows()).toEqual(before);
  });
});
