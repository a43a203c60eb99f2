import { describe, expect, it } from 'vitest';
import { playedBy } from '../../src/ui/record/card.ts';
import { toldApart } from '../../src/ui/record/names.ts';

const student = (id: string, more: object = {}) => ({
  ...{ id, name: 'Ana', group: '', instrument: 'guitar' as const, createdAtMs: Number(id) },
  ...more,
});
const words = (instrument: string): string => `plays ${instrument}`;
const tell = (all: readonly ReturnType<typeof student>[]) => all.map((one) => toldApart(one, all, words));

describe('students of one name', () => {
  it('are told apart by group, else by instrument, else by number; others by nothing', () => {
    const other = student('9', { name: 'Bea' });
    expect(tell([student('1', { group: 'Mon' }), student('2', { group: 'Tue' }), other])).toEqual([
      ...['Mon', 'Tue', null],
    ]);
    expect(
      tell([student('1', { group: 'Mon' }), student('2', { instrument: 'bass', group: 'Mon' })]),
    ).toEqual(['plays guitar', 'plays bass']);
    expect(tell([student('2', { name: ' ana' }), student('1')])).toEqual(['2', '1']);
    expect(tell([student('2'), student('1', { group: 'Tue' })])).toEqual(['2', 'Tue']);
  });
});

describe('what a student plays', () => {
  const last = { instrument: 'guitar', tuningId: 'guitar-drop-d', level: 5, manner: 'relaxed' } as const;
  const card = { instrument: 'guitar', tuningId: null, level: null, manner: null } as const;
  it('is what was chosen last where the card says nothing', () => {
    expect(playedBy(card, last)).toEqual(last);
  });
  it('follows the card, and with another instrument its usual tuning', () => {
    expect(playedBy({ ...card, instrument: 'bass', level: 2, manner: 'strict' }, last)).toEqual({
      ...{ instrument: 'bass', tuningId: 'bass', level: 2, manner: 'strict' },
    });
    expect(playedBy({ ...card, tuningId: 'guitar-open-g' }, last).tuningId).toBe('guitar-open-g');
  });
});
