import { knock, scrape, squeak, swellingNoise, touch } from '../effects/disturbances.ts';
import { addTo, levelTo } from '../effects/noise.ts';
import { sparse } from '../plans/runs.ts';
import { STROKE_RMS } from '../player.ts';
import { peakTo } from '../take.ts';
import { either, openStrings, ordinaryRoom, play, position, somewhere } from './playing.ts';
import type { PlannedNote } from '../planned.ts';
import type { Family, Made, Setting } from './types.ts';

/** What players' hands do beside the notes. Levels in dB against an ordinary stroke. */
const strokes = (levelDb: number): number => STROKE_RMS * 10 ** (levelDb / 20);

/** Plectrum scrapes before plucks, knocks and squeaks inside held notes. */
function noisyHands(s: Setting): Made {
  const { random, sampleRate } = s;
  const made = play(somewhere(s), s);
  for (const note of made.truth) {
    if (random.chance(0.5)) {
      const seconds = random.between(0.015, 0.045);
      const sound = scrape(seconds, sampleRate, random);
      const at = Math.round((note.onsetSec - seconds) * sampleRate);
      addTo(made.signal, sound, at, strokes(random.between(-26, -12)));
    }
    const length = note.offsetSec - note.onsetSec;
    if (length > 0.3 && random.chance(0.4)) {
      const sound = random.chance(0.5) ? knock(sampleRate, random) : squeak(sampleRate, random);
      const at = Math.round((note.onsetSec + random.between(0.12, length - 0.1)) * sampleRate);
      addTo(made.signal, sound, at, strokes(random.between(-18, -4)));
    }
  }
  return ordinaryRoom(made, s);
}

/**
 * The plectrum or finger lands early and stops the string, the left hand hammers the coming note faintly,
 * a lifted finger sets an open string off, and releases click.
 */
function contacts(s: Setting): Made {
  const { random, sampleRate } = s;
  const plan = either(s);
  const clicks: { readonly atSec: number; readonly levelDb: number }[] = [];
  const notes: PlannedNote[] = [];
  plan.notes.forEach((note, i) => {
    const next = plan.notes[i + 1];
    let { durationSec } = note;
    const early = random.between(0.03, 0.11);
    if (next && random.chance(0.55) && durationSec > early + 0.06) {
      durationSec = Math.min(durationSec, next.onsetSec - note.onsetSec - early);
      clicks.push({ atSec: next.onsetSec - early, levelDb: random.between(-30, -14) });
      if (next.midi !== note.midi && random.chance(0.35))
        notes.push({
          onsetSec: next.onsetSec - early * random.between(0.4, 0.9),
          durationSec: early * 0.35,
          midi: next.midi,
          levelDb: random.between(-26, -19),
          ghost: true,
        });
    } else if (random.chance(0.25)) {
      clicks.push({ atSec: note.onsetSec + durationSec, levelDb: random.between(-30, -14) });
      const open = openStrings(s.bank).filter((m) => m < note.midi);
      if (open.length && random.chance(0.5))
        notes.push({
          onsetSec: note.onsetSec + durationSec + 0.01,
          durationSec: random.between(0.1, 0.4),
          midi: open[open.length - 1],
          levelDb: random.between(-28, -21),
          ghost: true,
        });
    }
    notes.push({ ...note, durationSec });
  });
  const made = play({ ...plan, notes }, s);
  for (const { atSec, levelDb } of clicks)
    addTo(made.signal, touch(sampleRate, random), Math.round(atSec * sampleRate), strokes(levelDb));
  return ordinaryRoom(made, s);
}

/** One to three notes left to ring in a noisy room. */
function longNotes(s: Setting): Made {
  const { random, sampleRate } = s;
  const made = play(sparse(random, ...position(s.bank, random)), s);
  const count = random.whole(1, 3);
  for (let i = 0; i < count; i++) {
    const at = Math.round(random.between(0.1, 0.95) * made.signal.length);
    // A knock that falls on a pluck cannot be told from it: kept 150 ms away.
    if (made.truth.some((n) => Math.abs(n.onsetSec - at / sampleRate) < 0.15)) continue;
    addTo(made.signal, knock(sampleRate, random), at, strokes(random.between(-16, -2)));
  }
  peakTo(made.signal, random.between(-14, -3));
  const noise = swellingNoise(made.signal.length, sampleRate, random);
  addTo(made.signal, levelTo(noise, random.between(-48, -34)));
  return made;
}

export const PLAYERS = {
  noise: { what: 'pick scrapes, knocks, squeaks', plays: 'both', make: noisyHands },
  contact: { what: 'hands landing, lifting, brushing', plays: 'both', make: contacts },
  sparse: { what: 'one to three notes left ringing', plays: 'both', make: longNotes },
} satisfies Record<string, Family>;
