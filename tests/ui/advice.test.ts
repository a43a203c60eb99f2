import { describe, expect, it } from 'vitest';
import { makeTest } from '../../src/tests-engine/index.ts';
import { adviceText } from '../../src/ui/advice.ts';

describe('advice', () => {
  const test = makeTest({ kind: 'melody', level: 3, seed: 7, instrument: 'guitar' });
  it.each(['said-by-a-newer-app', 'constructor', '__proto__', 'toString'])(
    'that this app has no words for is shown as it was said: %s',
    (code) => {
      expect(adviceText({ code, values: {} }, test)).toContain(code);
    },
  );
});
