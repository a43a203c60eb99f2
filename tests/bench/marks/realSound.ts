import type { HeardTake } from '../../../src/music/notes.ts';
import { hearTake } from '../../../src/dsp/index.ts';
import { markTake, type Mark, type MarkRequest, type PlayedNote } from '../../../src/tests-engine/index.ts';
import { phraseSet, type Take } from '../../../audio-fixtures/index.ts';
import { random } from './stats.ts';

/** A take of real recorded notes, marked twice: from the notes it was made of, and from the notes that were heard. */
export interface BothWays {
  readonly id: string;
  readonly fromList: Mark;
  readonly fromSound: Mark;
}

/**
 * The written phrase that this take is an attempt at: its true notes with simulated mistakes taken back, so that the
 * player is up to 80 ms off and has one note in eight wrong, as seed `seed` has it.
 */
export function writtenFor(truth: readonly PlayedNote[], seed: number): PlayedNote[] {
  const next = random(seed);
  return truth
    .map((n) => ({
      onsetSec: n.onsetSec + (next() - 0.5) * 0.16,
      midi: next() < 0.125 ? n.midi! + 2 : n.midi!,
    }))
    .sort((a, b) => a.onsetSec - b.onsetSec);
}

export function bothWays(take: Take, seed: number): BothWays {
  const rhythm = take.family === 'rhy';
  const written = writtenFor(take.truth, seed);
  const heard: HeardTake = hearTake(take.signal, take.sampleRate, { instrument: take.instrument });
  const request = (played: readonly PlayedNote[]): MarkRequest => ({
    target: rhythm ? written.map(({ onsetSec }) => ({ onsetSec })) : written,
    played,
    clock: 'backing',
    transposition: 'none',
  });
  return {
    id: take.id,
    fromList: markTake(request(take.truth.map(({ onsetSec, midi }) => ({ onsetSec, midi })))),
    fromSound: markTake(
      request(heard.notes.map(({ onsetSec, midi, confidence }) => ({ onsetSec, midi, confidence }))),
    ),
  };
}

/** All phrases of the plain set. */
export async function realSound(): Promise<void> {
  console.log('\n## Real recorded notes: mark from the notes played and from the notes heard\n');
  const found = (await phraseSet()).map(({ make }, k) => bothWays(make(), k + 1));
  const off = found.map((x) => Math.abs((x.fromSound.mark ?? NaN) - x.fromList.mark!));
  const within = off.filter((x) => x <= 2).length;
  console.log(
    `${found.length} takes: within 2 marks ${within}; ` +
      `not marked ${found.filter((x) => x.fromSound.mark === null).length}; ` +
      `given as a range ${found.filter((x) => x.fromSound.range !== null).length}; ` +
      `median ${[...off].sort((a, b) => a - b)[off.length >> 1]!.toFixed(1)}.`,
  );
  found.forEach((x, k) => {
    if (!(off[k]! <= 2))
      console.log(`  ${x.id}: ${x.fromList.mark} from the list, ${x.fromSound.mark} from the sound`);
  });
}
