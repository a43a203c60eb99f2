import { describe, expect, it } from 'vitest';
import { makeReading, makeTest } from '../../src/tests-engine/index.ts';
import { adviceText } from '../../src/ui/advice.ts';
import { ADVICE } from '../../src/ui/messages.ts';

describe('advice', () => {
  const test = makeTest({ kind: 'melody', level: 3, seed: 7, instrument: 'guitar' });
  it.each(['said-by-a-newer-app', 'constructor', '__proto__', 'toString'])(
    'that this app has no words for is shown as it was said: %s',
    (code) => {
      expect(adviceText({ code, values: {} }, test)).toContain(code);
    },
  );
  it('sends nobody to hear or sing again what stood on the page, and after a phrase by ear does', () => {
    const page = makeReading({ level: 3, seed: 7, instrument: 'guitar' });
    const again = /[Hh]ear it again|\b[Ss]ing\b|drums|given/;
    const codes = Object.keys(ADVICE).filter((code) => again.test(ADVICE[code as keyof typeof ADVICE]));
    expect(codes.length).toBeGreaterThan(5);
    const values = { note: 2, count: 3, of: 9, ms: 40, semitones: 2 };
    for (const code of codes) {
      expect(adviceText({ code, values }, test), code).toMatch(again);
      expect(adviceText({ code, values }, page), code).not.toMatch(again);
    }
  });
});
