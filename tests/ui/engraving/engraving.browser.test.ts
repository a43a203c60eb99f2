import { beforeAll, describe, expect, it } from 'vitest';
import type { Engraver } from '../../../src/ui/engraving/layout.ts';
import { loadEngraver } from '../../../src/ui/engraving/load.ts';
import { scaleFor, systemsFor, type EngravedSystem } from '../../../src/ui/engraving/layout.ts';
import { pieceOf } from '../../../src/ui/piece.ts';
import { notate } from '../../../src/notation/index.ts';
import type { PracticeTest } from '../../../src/music/score.ts';
import { LEVELS, makeTest } from '../../../src/tests-engine/index.ts';

/** A phone's line and the paper's. */
const WIDTHS = [358, 672];

/** One test for each level, metre, kind and instrument. */
const tests: PracticeTest[] = LEVELS.flatMap(({ metres }, i) =>
  metres.flatMap((_, seed) =>
    (['melody', 'rhythm'] as const).flatMap((kind) =>
      (['guitar', 'bass'] as const).map((instrument) =>
        makeTest({ kind, level: i + 1, seed: seed + metres.length * 5, instrument }),
      ),
    ),
  ),
);
const nameOf = (test: PracticeTest): string =>
  `${test.kind} ${test.instrument} level ${test.level} seed ${test.seed}`;

let engraver: Engraver;
beforeAll(async () => {
  engraver = await loadEngraver();
});

/** Engraves a test line by line as `Score` does, and hands each line's element over. */
function engrave(
  test: PracticeTest,
  width: number,
  look: (host: HTMLElement, scale: number, system: EngravedSystem) => void,
): void {
  const piece = pieceOf(test);
  const ranges = systemsFor(test.phrase.bars, width, 300);
  const scale = scaleFor(piece, ranges, width, 1);
  for (const range of ranges) {
    const host = document.body.appendChild(document.createElement('div'));
    look(host, scale, engraver.drawSystem(host, piece, range, width, scale));
    host.remove();
  }
}
/** A dotted head's own box holds the dot too: its first sign is the head. */
const heads = (host: HTMLElement): DOMRect[] => boxes(host, '.vf-notehead > text:first-of-type');
const boxes = (host: HTMLElement, selector: string): DOMRect[] =>
  [...host.querySelectorAll(selector)].map((element) => element.getBoundingClientRect());

describe(`engraving of ${tests.length} tests at ${WIDTHS.join(', ')} px`, () => {
  it('clips nothing', () => {
    const clipped: string[] = [];
    for (const width of WIDTHS)
      for (const test of tests)
        engrave(test, width, (host, scale) => {
          const frame = host.querySelector('svg')!.getBoundingClientRect();
          const within = (top: number, bottom: number, left: number, right: number): void => {
            const over = Math.max(
              frame.top - top,
              bottom - frame.bottom,
              frame.left - left,
              right - frame.right,
            );
            if (over > 1) clipped.push(`${nameOf(test)} at ${width}: ${over.toFixed(1)} px`);
          };
          for (const box of boxes(host, '.vf-beam path, .vf-stavetie path, .vf-stem path'))
            within(box.top, box.bottom, box.left, box.right);
          // A text's box is that of its font's tallest sign: up and down its baseline counts, half a head each way.
          for (const text of host.querySelectorAll<SVGTextElement>('.vf-notehead text, .vf-tabnote text')) {
            const { left, right } = text.getBoundingClientRect();
            const y = frame.top + Number(text.getAttribute('y')) * scale;
            within(y - 5 * scale, y + 5 * scale, left, right);
          }
        });
    expect(clipped).toEqual([]);
  });

  it('sets each fret number under the middle of its notehead', () => {
    let numbers = 0;
    for (const test of tests)
      engrave(test, 672, (host) => {
        const middles = heads(host).map(({ left, right }) => (left + right) / 2);
        for (const { left, right } of boxes(host, '.vf-tabnote text')) {
          numbers += 1;
          // Half a px for the rounding of glyph boxes, and half for a minim's wider head.
          expect(
            Math.min(...middles.map((x) => Math.abs(x - (left + right) / 2))),
            nameOf(test),
          ).toBeLessThan(1);
        }
      });
    expect(numbers).toBeGreaterThan(500);
  });

  it('keeps the columns of the fullest bar apart on a phone', () => {
    for (const test of tests)
      engrave(test, 358, (host) => {
        const columns = heads(host).sort((a, b) => a.left - b.left);
        for (const [i, head] of columns.slice(1).entries())
          expect(head.left - columns[i]!.right, nameOf(test)).toBeGreaterThan(0);
      });
  });

  it('keeps fret numbers of two figures apart, on a phone and on paper', () => {
    const high = Array.from({ length: 60 }, (_, k) =>
      makeTest({ kind: 'melody', level: 10, seed: 9000 + k, instrument: k % 2 ? 'bass' : 'guitar' }),
    ).filter(({ phrase }) => phrase.notes.some(({ fret }) => fret! > 9));
    expect(high.length).toBeGreaterThan(10);
    const close: string[] = [];
    for (const width of WIDTHS)
      for (const test of high)
        engrave(test, width, (host) => {
          const numbers = boxes(host, '.vf-tabnote text').sort((a, b) => a.top - b.top || a.left - b.left);
          for (const [i, number] of numbers.slice(1).entries()) {
            const gap = number.left - numbers[i]!.right;
            // A digit is some 6 px wide: with less than a third of one between them two numbers read as one.
            if (number.top === numbers[i]!.top && gap < 2)
              close.push(`${nameOf(test)} at ${width}: ${gap.toFixed(1)} px`);
          }
        });
    expect(close).toEqual([]);
  });

  it('sets rests around the middle line, in triplets too', () => {
    const withRests = Array.from({ length: 40 }, (_, seed) =>
      makeTest({ kind: 'rhythm', level: 10, seed: 9000 + seed, instrument: seed % 2 ? 'bass' : 'guitar' }),
    );
    let rests = 0;
    let inTriplets = 0;
    for (const test of withRests) {
      const signs = notate(test.phrase).flat();
      inTriplets += signs.filter(({ kind, tuplet }) => kind === 'rest' && tuplet !== null).length;
      engrave(test, 672, (host, scale, { topY }) => {
        for (const text of host.querySelectorAll('.vf-notehead text')) {
          // SMuFL's rests: U+E4E3 (semibreve) to U+E4E9 (semiquaver and shorter).
          if (!/[\uE4E3-\uE4E9]/.test(text.textContent)) continue;
          rests += 1;
          expect(Number(text.getAttribute('y')) * scale - topY, nameOf(test)).toBeCloseTo(20 * scale, 1);
        }
      });
    }
    expect(rests).toBeGreaterThan(20);
    expect(inTriplets).toBeGreaterThan(3);
  });

  it('draws beams over repeated notes level', () => {
    const rhythms = tests.filter(({ kind }) => kind === 'rhythm');
    let beams = 0;
    for (const test of rhythms)
      engrave(test, 1144, (host, scale) => {
        for (const { height } of boxes(host, '.vf-beam > path')) {
          beams += 1;
          // The library's beams are 5 px thick.
          expect(height, nameOf(test)).toBeLessThan(5 * scale + 0.1);
        }
      });
    expect(beams).toBeGreaterThan(50);
  });
});
