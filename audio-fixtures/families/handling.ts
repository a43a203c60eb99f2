import { lowPassOnce } from '../effects/filters.ts';
import { addTo } from '../effects/noise.ts';
import { noisesInstalled, recordedNoise } from '../noises/index.ts';
import { swallowed } from '../plans/changes.ts';
import { STROKE_RMS } from '../player.ts';
import { prepared } from './players.ts';
import { either, ordinaryRoom, play, somewhere } from './playing.ts';
import type { NoiseKind } from '../noises/index.ts';
import type { PlannedNote } from '../planned.ts';
import type { Family, Made, Setting } from './types.ts';

/** Recorded knocks, taps and rubbing while strings ring. Levels are of the loudest 20 ms, in dB against an ordinary stroke. */

/** A noise nearer to a pluck than this is part of it: two plucks cannot be told apart there either. */
const CLEAR_SEC = 0.055;

/** Lays recorded noises into a take and keeps where. */
function layInto(made: Made, setting: Setting) {
  const { random, sampleRate, noises } = setting;
  const spans: { readonly fromSec: number; readonly toSec: number }[] = [];
  return {
    add(kind: NoiseKind, atSec: number, levelDb: number, change?: (pcm: Float32Array) => void): void {
      const pcm = recordedNoise(noises, kind, sampleRate, random);
      change?.(pcm);
      addTo(made.signal, pcm, Math.round(atSec * sampleRate), STROKE_RMS * 10 ** (levelDb / 20));
      spans.push({ fromSec: atSec, toSec: atSec + (kind === 'rub' ? pcm.length / sampleRate : 0.02) });
    },
    done: (): Made => ordinaryRoom({ ...made, noises: spans }, setting),
  };
}

/** Where a hand knocks during a note: most often 60–110 ms before the next pluck or after this one. */
function placeIn(startSec: number, endSec: number, { random }: Setting): number | null {
  const spots = [
    endSec - random.between(CLEAR_SEC, 0.12),
    startSec + random.between(CLEAR_SEC + 0.005, 0.12),
    random.between(startSec + CLEAR_SEC, Math.max(startSec + CLEAR_SEC, endSec - CLEAR_SEC)),
  ];
  const at = random.pick(spots);
  return at - startSec < CLEAR_SEC || endSec - at < CLEAR_SEC ? null : at;
}

/** The hand knocks on the body, taps it or clicks against the plectrum guard, while the string rings; some notes are soft. */
function knocks(s: Setting): Made {
  const { random } = s;
  const made = play(swallowed(either(s), random, 0.15), s);
  const { truth } = made;
  const laid = layInto(made, s);
  truth.forEach((note, i) => {
    if (!random.chance(0.6)) return;
    const at = placeIn(note.onsetSec, truth[i + 1]?.onsetSec ?? note.offsetSec + 0.5, s);
    if (at !== null) laid.add(random.chance(0.6) ? 'body' : 'tap', at, random.between(-20, 6));
  });
  return laid.done();
}

/** The hand goes to another place: strings stopped, touched or brushed, a slide along the winding, a finger put down. */
function shifts(s: Setting): Made {
  const { random } = s;
  const plan = somewhere(s);
  const notes: PlannedNote[] = [];
  const moves: { readonly atSec: number; readonly leftSec: number }[] = [];
  plan.notes.forEach((note, i) => {
    const next = plan.notes[i + 1];
    const leftSec = random.between(CLEAR_SEC, 0.12);
    const joined = next !== undefined && next.onsetSec - note.onsetSec - note.durationSec < 0.002;
    if (!joined || note.durationSec < leftSec + 0.08 || !random.chance(0.6)) return void notes.push(note);
    notes.push(...prepared(note, note.durationSec - leftSec, s));
    moves.push({ atSec: next.onsetSec - leftSec, leftSec });
  });
  const laid = layInto(play({ ...plan, notes }, s), s);
  for (const { atSec, leftSec } of moves) {
    if (random.chance(0.6))
      laid.add('rub', atSec, random.between(-20, -2), (pcm) => {
        const length = leftSec * s.sampleRate;
        for (let k = 0; k < pcm.length; k++) pcm[k]! *= k < length ? Math.sin((Math.PI * k) / length) : 0;
      });
    if (random.chance(0.7)) laid.add('tap', atSec, random.between(-20, 0));
    if (random.chance(0.3)) laid.add('body', atSec, random.between(-20, 6));
  }
  return laid.done();
}

/** Sleeve on the body, a creaking chair, the microphone put down just before the first note. */
function stirring(s: Setting): Made {
  const { random, sampleRate } = s;
  const made = play(either(s), s);
  const { truth } = made;
  const laid = layInto(made, s);
  if (random.chance(0.5))
    laid.add('body', random.between(0.01, 0.12), random.between(-6, 6), (pcm) =>
      lowPassOnce(pcm, random.between(60, 300), sampleRate),
    );
  truth.forEach((note, i) => {
    if (!random.chance(0.35)) return;
    const at = placeIn(note.onsetSec, truth[i + 1]?.onsetSec ?? note.offsetSec + 0.5, s);
    if (at === null) return;
    const dull = random.between(400, 6000);
    laid.add('rub', at, random.between(-20, -3), (pcm) => lowPassOnce(pcm, dull, sampleRate));
  });
  return laid.done();
}

export const HANDLING = {
  knock: {
    what: 'recorded knocks and taps while strings ring',
    plays: 'both',
    installed: noisesInstalled,
    make: knocks,
  },
  shift: {
    what: 'recorded sounds of changes of position',
    plays: 'both',
    installed: noisesInstalled,
    make: shifts,
  },
  stir: {
    what: 'recorded rubbing, and a thump before the first note',
    plays: 'both',
    installed: noisesInstalled,
    make: stirring,
  },
} satisfies Record<string, Family>;
