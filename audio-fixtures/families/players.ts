import { bodyThump, knock, scrape, squeak, swellingNoise, touch } from '../effects/disturbances.ts';
import { addTo, levelTo } from '../effects/noise.ts';
import { sparse } from '../plans/runs.ts';
import { STROKE_RMS } from '../player.ts';
import { peakTo } from '../take.ts';
import { either, openStrings, ordinaryRoom, play, position, somewhere } from './playing.ts';
import type { PlannedNote } from '../planned.ts';
import type { Random } from '../random.ts';
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
      const sound = random.pick([knock, bodyThump, squeak, squeak])(sampleRate, random);
      const at = Math.round((note.onsetSec + random.between(0.12, length - 0.1)) * sampleRate);
      addTo(made.signal, sound, at, strokes(random.between(-18, -4)));
    }
  }
  return ordinaryRoom(made, s);
}

/** A sound of the hands, laid on when the notes are played. */
interface Contact {
  readonly atSec: number;
  readonly sound: 'click' | 'thump';
  readonly levelDb: number;
}

/** The hand comes down before the next pluck: mostly 50–90 ms before, in real solos. */
const landsEarlySec = (random: Random): number =>
  random.chance(0.7) ? random.between(0.05, 0.09) : random.between(0.03, 0.11);

/**
 * What happens to a sounding note as the hands prepare the next: stopped, partly damped, or its finger lifted
 * so that a lower fret or the open string sounds faintly for a moment.
 */
export function prepared(note: PlannedNote, landsAfterSec: number, s: Setting): PlannedNote[] {
  const { random } = s;
  const kind = random.pick(['stop', 'touch', 'touch', 'lift']);
  if (kind === 'touch') {
    const dropDb = random.between(6, 20);
    return [{ ...note, touched: { afterSec: landsAfterSec, dropDb, overSec: random.between(0.004, 0.03) } }];
  }
  const stopped = { ...note, durationSec: landsAfterSec };
  if (kind === 'stop') return [stopped];
  const open = openStrings(s.bank).filter((m) => m < note.midi);
  const highestOpen = open.at(-1);
  const lower =
    random.chance(0.65) || highestOpen === undefined ? note.midi - random.pick([1, 1, 2]) : highestOpen;
  const faint: PlannedNote = {
    onsetSec: note.onsetSec + landsAfterSec,
    durationSec: note.durationSec - landsAfterSec,
    midi: lower,
    levelDb: random.between(-24, -10),
    finger: { riseSec: 0.004, lowPassHz: random.between(1200, 4000) },
    ghost: true,
  };
  return [stopped, faint];
}

/**
 * Hands landing before plucks with clicks and thumps on the body, strings stopped, touched or brushed, the
 * coming note hammered faintly, releases into rests. Families of such sounds found in real acoustic solos.
 */
function contacts(s: Setting): Made {
  const { random, sampleRate } = s;
  const plan = either(s);
  const sounds: Contact[] = [];
  const notes: PlannedNote[] = [];
  const sound = (atSec: number): void => {
    if (random.chance(0.7)) sounds.push({ atSec, sound: 'click', levelDb: random.between(-30, -12) });
    if (random.chance(0.35)) sounds.push({ atSec, sound: 'thump', levelDb: random.between(-26, -4) });
  };
  plan.notes.forEach((note, i) => {
    const next = plan.notes[i + 1];
    const early = landsEarlySec(random);
    const endSec = note.onsetSec + note.durationSec;
    const joined = next !== undefined && next.onsetSec - endSec < 0.002;
    if (joined && note.durationSec > early + 0.06 && random.chance(0.6)) {
      notes.push(...prepared(note, note.durationSec - early, s));
      sound(endSec - early);
      if (next.midi !== note.midi && random.chance(0.25))
        notes.push({
          onsetSec: next.onsetSec - early * random.between(0.4, 0.9),
          durationSec: early * 0.35,
          midi: next.midi,
          levelDb: random.between(-26, -19),
          ghost: true,
        });
      return;
    }
    notes.push(note);
    // Into a rest or the end: the release, and now and then a hand laid on the body while waiting.
    if (!joined) {
      sound(endSec);
      const wait = (next?.onsetSec ?? plan.durationSec) - endSec;
      if (wait > 0.35) sound(endSec + random.between(0.15, wait - 0.1));
    }
  });
  const made = play({ ...plan, notes }, s);
  for (const { atSec, sound: kind, levelDb } of sounds) {
    const pcm = kind === 'click' ? touch(sampleRate, random) : bodyThump(sampleRate, random);
    addTo(made.signal, pcm, Math.round(atSec * sampleRate), strokes(levelDb));
  }
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
    const sound = random.pick([knock, bodyThump])(sampleRate, random);
    addTo(made.signal, sound, at, strokes(random.between(-16, -2)));
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
