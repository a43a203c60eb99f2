import { isNegative } from '../../../audio-fixtures/index.ts';
import { createLiveEar } from '../../../src/dsp/index.ts';
import { f1, matchNotes, tally } from '../../support/fixtures/note-metrics.ts';
import type { Take, TakeRecipe } from '../../../audio-fixtures/index.ts';
import type { Tally } from '../../support/fixtures/note-metrics.ts';
import { addTallies } from '../../support/fixtures/note-metrics.ts';
import { timed } from './listener.ts';

/** An onset as the live ear told of it; times in seconds of the sample stream. */
interface Told {
  readonly onsetSec: number;
  /** How much had been pushed when it was told. */
  readonly toldSec: number;
  midi: number;
  namedSec: number | null;
  revoked: boolean;
}

/** The browser's render quantum. */
const BLOCK = 128;

function listen({ signal, sampleRate, instrument }: Take): Told[] {
  const ear = createLiveEar({ sampleRate, instrument });
  const told: Told[] = [];
  for (let at = 0; at < signal.length; at += BLOCK) {
    const block = signal.subarray(at, at + BLOCK);
    const now = (at + block.length) / sampleRate;
    for (const event of ear.push(block)) {
      if (event.type === 'onset') {
        const onsetSec = event.atSample / sampleRate;
        told.push({ onsetSec, toldSec: now, midi: NaN, namedSec: null, revoked: false });
      }
      if (event.type !== 'note' && event.type !== 'revoked') continue;
      const its = told.findLast((t) => t.onsetSec === event.atSample / sampleRate);
      if (!its) continue;
      if (event.type === 'revoked') its.revoked = true;
      else {
        its.midi = event.midi;
        its.namedSec = now;
      }
    }
  }
  return told;
}

interface Row {
  tallies: Tally[];
  ticks: number[];
  names: number[];
  matched: number;
  right: number;
  octaves: number;
}

const at = (sorted: readonly number[], share: number): string =>
  sorted.length
    ? (1000 * sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!).toFixed(1)
    : '–';
const spread = (values: readonly number[]): string => {
  const sorted = [...values].sort((a, b) => a - b);
  return [0.5, 0.95, 0.99, 1].map((share) => at(sorted, share).padStart(6)).join('');
};

/** Lowest note of a guitar: from here on a name is due within 100 ms. */
const E2 = 40;

/**
 * What the live ear says while the take runs, fed in blocks of 128: onsets (those taken back left out), the share
 * of named ones whose semitone is right, and how much had to be heard after the true attack until it was told.
 */
export function liveTable(recipes: readonly TakeRecipe[]): string[] {
  const rows = new Map<string, Row>();
  let seconds = 0;
  let audio = 0;
  for (const recipe of recipes) {
    if (isNegative(recipe.family)) continue;
    const take = recipe.make();
    const { value: told, seconds: cost } = timed(() => listen(take));
    seconds += cost;
    audio += take.signal.length / take.sampleRate;
    const kept = told.filter((t) => !t.revoked);
    const matching = matchNotes(take.truth, kept, 0.05, Infinity);
    const every = matchNotes(take.truth, told, 0.05, Infinity);
    const shift = take.tuningCents / 100;
    const groups: [string, (midi: number) => boolean][] = [
      [take.instrument, () => true],
      [
        `${take.instrument} ${take.instrument === 'bass' ? 'under' : 'from'} E2`,
        (m) => m >= E2 === (take.instrument === 'guitar'),
      ],
    ];
    for (const [name, belongs] of groups) {
      const row = rows.get(name) ?? { tallies: [], ticks: [], names: [], matched: 0, right: 0, octaves: 0 };
      rows.set(name, row);
      row.tallies.push(tally(take.truth, kept));
      take.truth.forEach((note, i) => {
        if (!belongs(note.midi)) return;
        if (every[i]! >= 0) row.ticks.push(told[every[i]!]!.toldSec - note.onsetSec);
        const heard = matching[i]! >= 0 ? kept[matching[i]!] : null;
        if (!heard || heard.namedSec === null) return;
        row.names.push(heard.namedSec - note.onsetSec);
        row.matched++;
        const off = heard.midi - (note.midi + shift);
        if (Math.abs(off) <= 0.5) row.right++;
        else if (Math.round(off) % 12 === 0) row.octaves++;
      });
    }
  }
  const out = [
    `live ear, ${((100 * seconds) / audio).toFixed(1)} % of a core`,
    'notes            onset F  miss extra  named right  octave   tick ms: 50 %  95 %  99 %  most   name ms: 50 %  95 %  99 %  most',
  ];
  for (const [name, row] of rows) {
    const all = addTallies(row.tallies);
    const onsetF = (f1(all.onsetHits, all) ?? 0).toFixed(3);
    out.push(
      `${name.padEnd(16)} ${onsetF.padStart(7)} ${String(all.truth - all.onsetHits).padStart(5)} ${String(all.heard - all.onsetHits).padStart(5)} ${String(row.matched).padStart(6)} ${(row.right / Math.max(1, row.matched)).toFixed(3)} ${String(row.octaves).padStart(7)}        ${spread(row.ticks)}         ${spread(row.names)}`,
    );
  }
  return out;
}
