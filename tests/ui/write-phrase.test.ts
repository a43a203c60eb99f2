import { describe, expect, it } from 'vitest';
import * as v from 'valibot';
import { practiceTest } from '../../src/music/schema/test.ts';
import { blankPhrase } from '../../src/ui/screens/phrases/blank.ts';
import { Editor } from '../../src/ui/screens/phrases/editor.svelte.ts';

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
});
