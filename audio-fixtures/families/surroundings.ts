import { fan, hum, pageTurn } from '../effects/disturbances.ts';
import { highPass } from '../effects/filters.ts';
import { addHiss, addTo, levelTo } from '../effects/noise.ts';
import { convolve, roomResponse } from '../effects/room.ts';
import { clip, phoneBand } from '../effects/tone.ts';
import { babble } from '../effects/voice.ts';
import { peakTo } from '../take.ts';
import { either, lowRhythm, ordinaryRoom, play, somewhere } from './playing.ts';
import type { Family, Made, Setting } from './types.ts';

/** Rooms, microphones and what else is heard in them. */

function inHum(s: Setting): Made {
  const made = play(somewhere(s), s);
  peakTo(made.signal, s.random.between(-14, -3));
  const buzz = hum(made.signal.length, s.sampleRate, s.random);
  addTo(made.signal, levelTo(buzz, s.random.between(-44, -34)));
  addHiss(made.signal, -46, s.sampleRate, s.random.fork('hiss'));
  return made;
}

function inRoom(made: Made, s: Setting): Made {
  const room = { rt60Sec: s.random.between(0.35, 0.6), wetDb: s.random.between(-11, -5) };
  const signal = convolve(made.signal, roomResponse(room, s.sampleRate, s.random.fork('room')));
  highPass(signal, 70, s.sampleRate);
  peakTo(signal, s.random.between(-14, -3));
  addHiss(signal, -50, s.sampleRate, s.random.fork('hiss'));
  return { ...made, signal };
}

/** A fan, talk, or a page turned behind the player. */
function behind(s: Setting): Made {
  const made = ordinaryRoom(play(either(s), s), s);
  const { random, sampleRate } = s;
  let top = 0;
  for (const x of made.signal) top = Math.max(top, Math.abs(x));
  const peakDb = 20 * Math.log10(top);
  const { length } = made.signal;
  const what = random.pick(['fan', 'talk', 'page']);
  if (what === 'fan')
    addTo(made.signal, fan(length, sampleRate, random), 0, 10 ** ((peakDb - random.between(34, 44)) / 20));
  else if (what === 'talk')
    addTo(made.signal, babble(length, sampleRate, random), 0, 10 ** ((peakDb - random.between(34, 42)) / 20));
  else
    for (let i = 0; i < random.whole(1, 2); i++) {
      const at = Math.round(random.between(0, 0.9) * length);
      addTo(made.signal, pageTurn(sampleRate, random), at, 10 ** ((peakDb - random.between(32, 42)) / 20));
    }
  return made;
}

/** Samples lost so near to a pluck are part of it, s. */
const CLEAR_SEC = 0.02;
/** Two losses are at least so far apart, s. */
const APART_SEC = 0.25;

/** Blocks of 1–12 ms that never reached the recording, cut out without a trace: what a sound system under load does. */
function skipping(s: Setting): Made {
  const { random, sampleRate } = s;
  const { signal, truth } = ordinaryRoom(play(either(s), s), s);
  const places: number[] = [];
  for (let i = 0; i < 8; i++) {
    const at = random.between(truth[0]!.onsetSec, truth[truth.length - 1]!.offsetSec);
    const clear = truth.every(({ onsetSec }) => Math.abs(onsetSec - at) > CLEAR_SEC);
    if (clear && places.every((other) => Math.abs(other - at) > APART_SEC)) places.push(at);
  }
  const cuts = places
    .sort((a, b) => a - b)
    .map((at) => ({
      from: Math.round(at * sampleRate),
      length: Math.round(random.between(0.001, 0.012) * sampleRate),
    }));
  const lostBefore = (sample: number): number =>
    cuts.reduce((sum, { from, length }) => sum + (from < sample ? length : 0), 0);
  const out = new Float32Array(signal.length - lostBefore(Infinity));
  let filled = 0;
  let read = 0;
  for (const { from, length } of [...cuts, { from: signal.length, length: 0 }]) {
    out.set(signal.subarray(read, from), filled);
    filled += from - read;
    read = from + length;
  }
  const sooner = (sec: number): number => sec - lostBefore(sec * sampleRate) / sampleRate;
  return {
    signal: out,
    truth: truth.map((note) => ({
      ...note,
      onsetSec: sooner(note.onsetSec),
      offsetSec: sooner(note.offsetSec),
    })),
    noises: cuts.map(({ from }) => ({
      fromSec: sooner(from / sampleRate),
      toSec: sooner(from / sampleRate),
    })),
  };
}

export const SURROUNDINGS = {
  hum: { what: '50/60 Hz and hiss', plays: 'both', make: inHum },
  room: { what: 'reverberation 0.35–0.6 s', plays: 'both', make: (s) => inRoom(play(somewhere(s), s), s) },
  rroom: { what: 'the same, rhythms', plays: 'both', make: (s) => inRoom(play(lowRhythm(s), s), s) },
  behind: { what: 'fan, talk, page turn behind', plays: 'both', make: behind },
  phone: {
    what: 'a phone’s band',
    plays: 'guitar',
    make: (s) => {
      const made = play(either(s), s);
      phoneBand(made.signal, s.sampleRate, s.random);
      return ordinaryRoom(made, s);
    },
  },
  clip: {
    what: 'input clipped by 2–6 dB',
    plays: 'both',
    make: (s) => {
      const made = ordinaryRoom(play(either(s), s), s);
      clip(made.signal, s.random.between(2, 6));
      return made;
    },
  },
  skip: { what: 'blocks of 1–12 ms cut out without a trace', plays: 'both', make: skipping },
} satisfies Record<string, Family>;
