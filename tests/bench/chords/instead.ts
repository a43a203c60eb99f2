import { CHORD_BANKS, playChords, RATE } from '../../../audio-fixtures/chords/index.ts';
import type { PlayedStrum } from '../../../audio-fixtures/chords/index.ts';
import { speechInstalled, spoken } from '../../../audio-fixtures/effects/spoken.ts';
import { babble } from '../../../audio-fixtures/effects/voice.ts';
import { loadBanks } from '../../../audio-fixtures/index.ts';
import { makeRandom, type Random } from '../../../audio-fixtures/random.ts';
import { hearChordTake } from '../../../src/dsp/index.ts';
import type { ChordTest } from '../../../src/music/chords/index.ts';
import { sec } from '../../../src/music/units.ts';
import {
  askedOfTest,
  chordsAtSec,
  expectedOfTest,
  makeChords,
  markChordTake,
} from '../../../src/tests-engine/index.ts';
import { head, line, share } from './report.ts';

/** What is no chord, answered to one: whole takes, heard and marked as the app does it. */

const CHORDS = 8;
const LEAD_SEC = 1;
/** A bar of two and a half seconds. */
const TEMPO = 96;
/** The hand comes down so long before the next chord is due. */
const DAMPED_SEC = 0.06;
const FAMILIES = [['barre'], ['open'], ['open', 'seventh']] as const;
const MAJOR = [0, 2, 4, 5, 7, 9, 11, 12] as const;

/** Where a chord lies in the take, and the notes that its shape sounds, lowest first. */
interface Slot {
  readonly notes: readonly number[];
  readonly fromSec: number;
  readonly toSec: number;
}

/** So many notes one after another from the slot's time on, each damped by the next. */
const run = (notes: readonly number[], { fromSec, toSec }: Slot): PlayedStrum[] => {
  const step = (toSec - fromSec - DAMPED_SEC) / notes.length;
  return notes.map((note, k) => ({
    notes: [note],
    atSec: fromSec + k * step,
    untilSec: fromSec + (k + 1) * step,
  }));
};
const one = (notes: readonly number[], { fromSec, toSec }: Slot): PlayedStrum[] => [
  { notes, atSec: fromSec, untilSec: toSec - DAMPED_SEC },
];

/** Each says what is played in a chord's place. */
const INSTEAD: readonly (readonly [string, (slot: Slot, random: Random) => PlayedStrum[]])[] = [
  ['the chord', (slot) => one(slot.notes, slot)],
  ['its lowest note alone', (slot) => one([slot.notes[0]!], slot)],
  ['another of its notes alone', (slot, random) => one([random.pick(slot.notes.slice(1))], slot)],
  ['its lowest note in two octaves', (slot) => one([slot.notes[0]!, slot.notes[0]! + 12], slot)],
  [
    'a scale from its lowest note, eight notes',
    (slot) =>
      run(
        MAJOR.map((up) => slot.notes[0]! + up),
        slot,
      ),
  ],
  [
    'a scale, four notes',
    (slot) =>
      run(
        MAJOR.slice(0, 4).map((up) => slot.notes[0]! + up),
        slot,
      ),
  ],
];

interface Told {
  refused: boolean;
  readonly verdicts: readonly string[];
}

function tell(test: ChordTest, pcm: Float32Array): Told {
  const heard = hearChordTake(pcm, RATE, {
    asked: askedOfTest(test).map((span) => ({
      ...span,
      fromSec: LEAD_SEC + span.fromSec,
      toSec: LEAD_SEC + span.toSec,
    })),
    expectedSec: expectedOfTest(test).map((at) => LEAD_SEC + at),
    fromSec: 0,
    reference: null,
    lowest: Math.min(...test.tuning),
    driven: false,
  });
  const { verdicts } = markChordTake(test, {
    heard: heard.heard,
    strums: heard.strums.map((strum) => ({
      ...strum,
      firstSec: sec(strum.firstSec - LEAD_SEC),
      fullSec: sec(strum.fullSec - LEAD_SEC),
      untilSec: sec(strum.untilSec - LEAD_SEC),
    })),
  });
  return {
    refused: heard.heard.verdict === 'refused',
    verdicts: verdicts.flatMap(({ kind, askedIndex }) => (askedIndex === null ? [] : [kind])),
  };
}

const row = (name: string, told: readonly Told[]): string => {
  const all = told.flatMap(({ verdicts }) => verdicts);
  const of = (kind: string): string => share(all.filter((one) => one === kind).length, all.length);
  const refused = told.filter((take) => take.refused).length;
  return line([
    name,
    `${refused} of ${told.length}`,
    all.length,
    ...['no', 'unsure', 'missed', 'yes'].map(of),
  ]);
};

/** @param takes so many takes of eight chords for each thing played */
export async function insteadTable(takes: number, seed: number): Promise<string[]> {
  const banks = (await loadBanks()).all.filter(
    ({ name, instrument }) =>
      instrument === 'guitar' && (CHORD_BANKS.report as readonly string[]).includes(name),
  );
  const drawn = (k: number, voicing: 'shape' | 'any'): ChordTest =>
    makeChords({
      ...{ seed: (seed + k) >>> 0, how: 'progression', count: CHORDS, voicing, tempoBpm: TEMPO },
      families: FAMILIES[k % FAMILIES.length]!,
    });
  // Half of the takes are asked by name; what is played comes from the same draw's shapes.
  const tests = Array.from({ length: takes }, (_, k) => drawn(k, k % 2 ? 'any' : 'shape'));
  const shapes = tests.map((_, k) => drawn(k, 'shape'));
  const barSec = (4 * 60) / TEMPO;
  const out = [
    '',
    `### What is no chord, answered to chords in time (${takes} takes of ${CHORDS} chords each, half asked by shape, half by name)`,
    '',
    ...head(['played', 'not marked', 'chords asked', 'no', "can't tell", 'not struck', 'yes']),
  ];
  for (const [name, play] of INSTEAD)
    out.push(
      row(
        name,
        tests.map((test, k) => {
          const random = makeRandom(seed + 31 * k);
          const strums = chordsAtSec(test).flatMap((at, i) => {
            const notes = shapes[k]!.chords[i]!.frets!.flatMap((fret, s) =>
              fret === null ? [] : [test.tuning[s]! + fret],
            );
            return play({ notes, fromSec: LEAD_SEC + at, toSec: LEAD_SEC + at + barSec }, random);
          });
          const durationSec = LEAD_SEC + CHORDS * barSec + 1;
          return tell(test, playChords(banks[k % banks.length]!, strums, { durationSec, seed: seed + k }));
        }),
      ),
    );
  const length = Math.round((LEAD_SEC + CHORDS * barSec + 1) * RATE);
  const talk = (random: Random): Float32Array => {
    const said = speechInstalled() ? spoken(RATE, random) : babble(length, RATE, random);
    return Float32Array.from({ length }, (_, i) => 0.4 * said[i % said.length]!);
  };
  out.push(
    row(
      speechInstalled() ? 'speech (espeak-ng)' : 'speech (formants)',
      tests.map((test, k) => tell(test, talk(makeRandom(seed + 77 * k)))),
    ),
    row(
      'silence',
      tests.map((test) => tell(test, new Float32Array(length))),
    ),
  );
  return out;
}
