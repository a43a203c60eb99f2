import { createRequire } from 'node:module';
import { join } from 'node:path';
import { read } from 'midifile-ts';
import { describe, expect, it } from 'vitest';
import { testToMusicXml } from '../../../src/exchange/index.ts';
import type { Phrase } from '../../../src/music/score.ts';
import { LEVELS, makeTest } from '../../../src/tests-engine/index.ts';

/**
 * What another program, MuseScore's own reader (webmscore, GPL, 24 MB, so not among the dependencies), makes of our
 * MusicXML: it is asked for MIDI, and pitches and times are compared. The standard's schema is in no npm or Debian
 * package (searched 2026-11-25). To run it: `npm i --no-save webmscore@1.2.1`, or name a folder that holds
 * node_modules/webmscore in TWOBAR_WEBMSCORE.
 */
interface Reader {
  readonly ready: Promise<void>;
  load(
    format: 'musicxml',
    data: Uint8Array,
    fonts: [],
    doLayout: boolean,
  ): Promise<{ saveMidi(): Promise<Uint8Array> }>;
}
const NAME = 'webmscore';
const from = join(process.env['TWOBAR_WEBMSCORE'] ?? join(import.meta.dirname, '../../..'), 'package.json');
function reader(): Reader | null {
  // Its loader takes Node for a browser where there is a fetch (Node 18 on), and then asks it for a file's path.
  Reflect.deleteProperty(globalThis, 'fetch');
  try {
    const found = createRequire(from)(NAME) as Reader & { default?: Reader };
    return found.default ?? found;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'MODULE_NOT_FOUND') return null;
    throw error;
  }
}
const musescore = reader();

/** [crotchets × 480, sounding pitch] of every struck note. */
function struck(midi: Uint8Array): [number, number][] {
  const file = read(midi);
  const perQuarter = file.header.ticksPerBeat;
  return file.tracks
    .flatMap((track) => {
      let at = 0;
      return track.flatMap((event): [number, number][] => {
        at += event.deltaTime;
        return event.type === 'channel' && event.subtype === 'noteOn' && event.velocity > 0
          ? [[Math.round((at * 480) / perQuarter), event.noteNumber]]
          : [];
      });
    })
    .sort((a, b) => a[0] - b[0] || a[1] - b[1]);
}
/** As written: this reader passes over swing. */
const expected = (phrase: Phrase): [number, number][] =>
  phrase.notes.map(({ startTicks, midi }) => [startTicks, midi]);

const tests = LEVELS.flatMap(({ metres }, i) =>
  metres.flatMap((_, seed) =>
    (['melody', 'rhythm'] as const).flatMap((kind) =>
      (['guitar', 'bass'] as const).map((instrument) =>
        makeTest({ kind, level: i + 1, seed: seed + metres.length * 3, instrument }),
      ),
    ),
  ),
);

describe.skipIf(musescore === null)(
  `MuseScore reads our MusicXML${musescore ? '' : ' (skipped: webmscore is not installed, see the head of this file)'}`,
  () => {
    it(`finds every pitch, an octave below the written one, and every onset of ${tests.length} tests: each level, metre, kind and clef`, async () => {
      await musescore!.ready;
      const wrong: string[] = [];
      for (const test of tests) {
        const score = await musescore!.load(
          'musicxml',
          new TextEncoder().encode(testToMusicXml(test)),
          [],
          false,
        );
        const heard = struck(await score.saveMidi());
        const phrases = test.question ? [test.phrase, test.question.other] : [test.phrase];
        const asked = phrases
          .flatMap((phrase) => expected(phrase))
          .sort((a, b) => a[0] - b[0] || a[1] - b[1]);
        const same = JSON.stringify(heard) === JSON.stringify(asked);
        const { kind, instrument, level, seed } = test;
        if (!same)
          wrong.push(
            `${kind} ${instrument} level ${level} seed ${seed}: ${heard.join(' ')} for ${asked.join(' ')}`,
          );
      }
      expect(wrong).toEqual([]);
    });
  },
);
