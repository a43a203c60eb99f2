import { describe, expect, it } from 'vitest';
import { CHORD_BANKS, playChords } from '../../audio-fixtures/chords/index.ts';
import { loadNpmBank } from '../../audio-fixtures/banks/npm.ts';
import { perform } from '../../audio-fixtures/player.ts';
import { makeRandom } from '../../audio-fixtures/random.ts';
import { writeWav } from '../../src/exchange/index.ts';
import { chordClasses, parseChord } from '../../src/music/chords/index.ts';
import { barTicks } from '../../src/music/metre.ts';
import { ticksToSec } from '../../src/music/units.ts';
import { chartOf, makePieceTask, standardTuning, type Description } from '../../src/tests-engine/index.ts';
import { makePiece } from '../support/piece.ts';
import { put, twobar } from './support.ts';

const RATE = 44_100;
const START = 1.5;
const files = (test: string, samples: Float32Array): string[] => [
  ...['--test', put('task.json', test), '--take', put('take.wav', writeWav(samples, RATE))],
  ...['--start', String(START)],
];

describe('mark of a chart', () => {
  it('tells of chords improvised over it whether each held the chord of its bar', async () => {
    const { out } = await twobar(['make', '--kind', 'improvising', '--level', '1', '--seed', '3', '--free']);
    const task = { ...JSON.parse(out), plays: 'chords' };
    const chart = chartOf(task);
    const bar = barTicks(chart.metre);
    // Each chord struck at every bar that it lasts; the second chord a semitone high.
    const chords = chart.chords.flatMap(({ symbol, startTicks, durationTicks }, i) => {
      const notes = chordClasses(parseChord(symbol)!).map((pc) => 48 + pc + (i === 1 ? 1 : 0));
      return Array.from({ length: Math.ceil(durationTicks / bar) }, (_, k) => {
        const atSec = START + ticksToSec(startTicks + k * bar, chart.tempoBpm);
        return {
          notes: [...notes, notes[0]! + 12].sort((a, b) => a - b),
          atSec,
          // The recorded strings ring no longer.
          untilSec: atSec + 2.5,
        };
      });
    });
    const high = chart.chords[1]!.durationTicks / bar;
    const lengthSec = chords.at(-1)!.untilSec + 0.5;
    const bank = await loadNpmBank('nylon');
    const take = playChords(bank, chords, { durationSec: lengthSec, seed: 2 });
    const args = ['mark', ...files(JSON.stringify(task), take)];
    const mark = JSON.parse((await twobar([...args, '--json'])).out) as Description;
    const told = Object.fromEntries(mark.facts.map(({ code, values }) => [code, values]));
    expect(mark).toMatchObject({ type: 'described', mark: null });
    // What is heard besides, as a hand on the strings, is too short to be told and costs nothing.
    expect(told['strokes']!['count']).toBeGreaterThanOrEqual(chords.length);
    expect(told['strokes-held']).toMatchObject({ no: high });
    expect(Number(told['strokes-held']!['yes'])).toBeGreaterThanOrEqual(chords.length - high - 1);
    expect(mark.advice.code).toBe('try-chord-of-bar');
    expect((await twobar(args)).out).toMatch(/^no mark \(described\)\n.*\n[^]*strokes-held {2}yes \d+/);
    expect(CHORD_BANKS.report).toContain('nylon');
  });
});

describe('mark of a piece', () => {
  it('marks its part note by note, and names the bar that went wrong', async () => {
    const piece = makePiece(4711, { seconds: 12, level: 3, tempoBpm: 100 });
    const bars = piece.barSecs.length - 1;
    const task = makePieceTask({
      ...{ instrument: 'guitar', tuning: standardTuning('guitar').strings, title: 'own', passage: null },
      ...{ metre: { beats: 4, beatUnit: 4, grouping: [2, 2] }, key: { tonic: 'E', scale: 'minor' } },
      track: { id: 'a'.repeat(32), name: 'own', durationSec: 20, barOneSec: 1, bpm: 100 },
      part: {
        ...{ title: 'own', metre: { beats: 4, beatUnit: 4, grouping: [2, 2] }, fifths: 1, minor: true },
        ...{ swing: 0.5, tempi: [{ atTicks: 0, bpm: 100 }], notes: piece.notes },
        bars: Array.from({ length: bars }, (_, k) => ({
          ...{ startTicks: 1920 * k, durationTicks: 1920, printed: k + 1 },
        })),
      } as never,
    });
    const notes = piece.target.map(({ onsetSec, midi, bar }, i) => ({
      onsetSec: START + onsetSec,
      durationSec: Math.min(1, 0.9 * ((piece.target[i + 1]?.onsetSec ?? onsetSec + 0.6) - onsetSec)),
      midi: midi + (bar === 1 ? 1 : 0),
      levelDb: 0,
    }));
    const { signal } = perform(notes, await loadNpmBank('electric'), {
      ...{ sampleRate: RATE, durationSec: START + piece.barSecs.at(-1)! + 1, random: makeRandom(7) },
    });
    const args = ['mark', ...files(JSON.stringify(task), Float32Array.from(signal))];
    const mark = JSON.parse((await twobar([...args, '--json'])).out);
    expect(mark.mark).toBeLessThan(100);
    const wrong = new Set(
      mark.verdicts
        .filter(({ kind }: { kind: string }) => kind === 'wrong')
        .map(({ targetIndex }: { targetIndex: number }) => piece.target[targetIndex]!.bar),
    );
    expect([...wrong]).toEqual([1]);
    expect((await twobar(args)).out).toMatch(/^mark \d+|\d+ of 100/m);
  });
});
