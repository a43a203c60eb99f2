import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CALIBRATION, NETWORK, THRESHOLDS } from '../src/dsp/chords/fitted/decision.ts';
import { LEVELS_DB } from '../src/dsp/chords/fitted/levels.ts';
import { CONFIDENCE_LINE, INSTRUMENT_LINE } from '../src/dsp/decision/lines.ts';
import { VETO } from '../src/dsp/decision/vetoWeights.ts';
import { FIRST_LOOK, SECOND_LOOK } from '../src/dsp/decision/weights.ts';
import { OVER_TREES } from '../src/dsp/bleed/overWeights.ts';
import { PLACEMENT_TREES } from '../src/dsp/bleed/placementWeights.ts';
import { refuseMissing } from '../src/training/banks.ts';

const read = (file: string): Record<string, unknown> =>
  JSON.parse(readFileSync(join(import.meta.dirname, '../src/dsp', file), 'utf8')) as Record<string, unknown>;

describe('what ships as learnt', () => {
  it('is what its data files say, each with the command that made it', () => {
    const levels = read('chords/fitted/levels.json');
    const decision = read('chords/fitted/decision.json');
    expect(levels.levelsDb).toEqual(LEVELS_DB);
    expect(decision).toMatchObject({ thresholds: THRESHOLDS, calibration: CALIBRATION, network: NETWORK });
    expect(read('bleed/overWeights.json')).toEqual(OVER_TREES);
    expect(read('bleed/placementWeights.json')).toEqual(PLACEMENT_TREES);
    expect(read('decision/weights.json')).toMatchObject({ first: FIRST_LOOK, second: SECOND_LOOK });
    expect(read('decision/vetoWeights.json')).toEqual(VETO);
    expect(read('decision/lines.json')).toMatchObject({
      confidence: CONFIDENCE_LINE,
      instrument: INSTRUMENT_LINE,
    });
    for (const file of [
      'bleed/overWeights',
      'bleed/placementWeights',
      'chords/fitted/levels',
      'decision/weights',
      'decision/vetoWeights',
      'decision/lines',
    ])
      expect(read(`${file}.json`).made).toMatch(/^Fitted by `npm run fit -- \w+`/);
  });

  it('is not made with a bank missing: the sentence names it and how to install it', () => {
    expect(() => refuseMissing([])).not.toThrow();
    expect(() => refuseMissing(['fluid-jazz', 'speech'])).toThrow(
      /not installed: fluid-jazz, speech\. Run .*apt-get install/,
    );
  });
});
