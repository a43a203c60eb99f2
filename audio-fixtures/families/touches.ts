import { bent, fingered, palmMuted, ringing, slurred, swallowed, swelling } from '../plans/changes.ts';
import { fastRuns, rePlucks } from '../plans/runs.ts';
import { drive, speakLate } from '../effects/tone.ts';
import {
  either,
  lowestString,
  lowRhythm,
  openStrings,
  ordinaryRoom,
  play,
  position,
  somewhere,
} from './playing.ts';
import { addHiss } from '../effects/noise.ts';
import { peakTo } from '../take.ts';
import type { Family, Made, Setting } from './types.ts';

/** How the notes are played. */

/** Recordings that are silent by the time a slur would begin. */
const DEAD_AT_ONCE = ['fluid-muted'];

function driven(s: Setting): Made {
  const made = play(somewhere(s), s);
  drive(made.signal, s.random.between(4, 16), s.sampleRate);
  return ordinaryRoom(made, s);
}

/** A gate or a swell effect before the amplifier, which three times in five is overdriven. */
function gated(s: Setting): Made {
  const { random, sampleRate } = s;
  const made = play(either(s), s);
  if (random.chance(0.6)) drive(made.signal, random.between(4, 16), sampleRate);
  const plucks = made.truth.map((note) => Math.round(note.onsetSec * sampleRate));
  speakLate(made.signal, plucks, sampleRate, random);
  return ordinaryRoom(made, s);
}

/** Take-wide level from pp (peak −34 dBFS) to ff (−1), and a swell or fade of 12 dB inside it. */
function dynamics(s: Setting): Made {
  const [from, to] = s.random.pick([
    [-12, 0],
    [0, -12],
    [-8, 4],
    [0, 0],
  ]);
  const made = play(swelling(either(s), from, to), s);
  const peakDb = s.random.between(-34, -1);
  peakTo(made.signal, peakDb);
  addHiss(made.signal, Math.min(-62, peakDb - 48), s.sampleRate, s.random.fork('hiss'));
  return made;
}

export const TOUCHES = {
  mel: {
    what: 'melodies, dry or small room',
    plays: 'both',
    make: (s) => ordinaryRoom(play(somewhere(s), s), s),
  },
  rhy: { what: 'rhythms on E2 or E1', plays: 'both', make: (s) => ordinaryRoom(play(lowRhythm(s), s), s) },
  mute: {
    what: 'palm-muted',
    plays: 'both',
    make: (s) => {
      const plan = either(s);
      return ordinaryRoom(play(s.bank.name === 'fluid-muted' ? plan : palmMuted(plan, s.random), s), s);
    },
  },
  slur: {
    what: 'hammer-ons and pull-offs, 6 or 30 ms',
    plays: 'both',
    without: DEAD_AT_ONCE,
    make: (s) => {
      const plan = slurred(somewhere(s), s.random, 0.45, () => s.random.pick([0.006, 0.03]));
      return ordinaryRoom(play(plan, s), s);
    },
  },
  glide: {
    what: 'slides of 30–60 ms',
    plays: 'both',
    without: DEAD_AT_ONCE,
    make: (s) => {
      const plan = slurred(somewhere(s), s.random, 0.45, () => s.random.between(0.03, 0.06));
      return ordinaryRoom(play(plan, s), s);
    },
  },
  ring: {
    what: 'notes ring on under the next',
    plays: 'both',
    make: (s) => ordinaryRoom(play(ringing(somewhere(s), s.random, openStrings(s.bank)), s), s),
  },
  drive: { what: 'overdriven', plays: 'guitar', make: driven },
  gate: { what: 'an effect lets notes speak 12–40 ms late', plays: 'guitar', make: gated },
  fast: {
    what: 'runs of 55–120 ms notes',
    plays: 'both',
    make: (s) => ordinaryRoom(play(fastRuns(s.random, ...position(s.bank, s.random)), s), s),
  },
  repluck: {
    what: 'semiquavers at 150–165 bpm on one string',
    plays: 'both',
    make: (s) => ordinaryRoom(play(rePlucks(s.random, lowestString(s.bank)), s), s),
  },
  soft: {
    what: 'every fourth note 13–18 dB down',
    plays: 'both',
    make: (s) => ordinaryRoom(play(swallowed(either(s), s.random, 0.25), s), s),
  },
  bend: {
    what: 'bends and vibrato within ±60 cents',
    plays: 'guitar',
    make: (s) => ordinaryRoom(play(bent(somewhere(s), s.random), s), s),
  },
  detune: {
    what: 'whole take 15–40 cents off',
    plays: 'both',
    make: (s) => {
      const cents = s.random.between(15, 40) * (s.random.chance(0.5) ? 1 : -1);
      return ordinaryRoom(play(either(s), s, cents), s);
    },
  },
  dynam: { what: 'pp to ff', plays: 'both', make: dynamics },
  finger: {
    what: 'finger instead of plectrum',
    plays: 'both',
    make: (s) => ordinaryRoom(play(fingered(either(s), s.random), s), s),
  },
} satisfies Record<string, Family>;
