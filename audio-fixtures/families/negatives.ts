import { bodyThump, knock, squeak, touch } from '../effects/disturbances.ts';
import { highPass, lowPassOnce } from '../effects/filters.ts';
import { addHiss, addTo, levelTo, whiteNoise } from '../effects/noise.ts';
import { convolve, roomResponse } from '../effects/room.ts';
import { speechInstalled, spoken } from '../effects/spoken.ts';
import { babble, sung } from '../effects/voice.ts';
import { perform } from '../player.ts';
import { peakTo } from '../take.ts';
import type { PlannedNote } from '../planned.ts';
import type { Family, Made, Setting } from './types.ts';

/** Takes that hold no note worth marking. */

const SECONDS = 7;

function inAir(signal: Float32Array, { random, sampleRate }: Setting): Made {
  const room = { rt60Sec: random.between(0.15, 0.4), wetDb: random.between(-18, -8) };
  const heard = convolve(signal, roomResponse(room, sampleRate, random.fork('room')));
  peakTo(heard, random.between(-24, -6));
  addHiss(heard, random.between(-72, -60), sampleRate, random.fork('hiss'));
  return { signal: heard, truth: [] };
}

const seconds = (s: Setting): number => Math.round(SECONDS * s.sampleRate);

function metronome(s: Setting): Made {
  const { random, sampleRate } = s;
  const out = new Float32Array(seconds(s));
  const beat = 60 / random.between(60, 140);
  const [high, low] = random.pick([
    [1600, 1200],
    [1000, 800],
    [2400, 1900],
  ]);
  const tau = random.between(0.004, 0.02) * sampleRate;
  for (let k = 0, at = 0.3; at < SECONDS - 0.2; k++, at += beat) {
    const w = (2 * Math.PI * (k % 4 ? low : high)) / sampleRate;
    const tick = Float32Array.from(
      { length: Math.round(8 * tau) },
      (_, i) => Math.sin(w * i) * Math.exp(-i / tau),
    );
    addTo(out, tick, Math.round(at * sampleRate));
  }
  return inAir(out, s);
}

/** The microphone or guitar handled: knocks, rubbing, squeaks, touches. */
function handling(s: Setting): Made {
  const { random, sampleRate } = s;
  const out = new Float32Array(seconds(s));
  for (let at = 0.3; at < SECONDS - 0.5; at += random.between(0.1, 0.9)) {
    const sound = random.pick([knock, bodyThump, squeak, touch])(sampleRate, random);
    addTo(out, sound, Math.round(at * sampleRate), 10 ** (random.between(-18, 0) / 20));
    if (random.chance(0.3)) {
      const rub = whiteNoise(Math.round(random.between(0.2, 0.6) * sampleRate), random);
      lowPassOnce(rub, 900, sampleRate);
      for (let i = 0; i < rub.length; i++) rub[i]! *= Math.sin((Math.PI * i) / rub.length);
      addTo(out, levelTo(rub, random.between(-24, -10)), Math.round(at * sampleRate));
    }
  }
  return inAir(out, s);
}

/** Drums and strummed chords out of a laptop's loudspeaker: no phrase, nothing under 280 Hz. */
function backing(s: Setting): Made {
  const { random, sampleRate, bank } = s;
  const beat = 60 / random.between(70, 130);
  const notes: PlannedNote[] = [];
  const lowest = bank.instrument === 'bass' ? 33 : 45;
  for (let bar = 0; 4 * beat * bar < SECONDS; bar++) {
    const root = lowest + random.whole(0, 7);
    for (const strum of [0, 2])
      for (const interval of [0, 7, 12, 16])
        notes.push({
          onsetSec: 0.3 + beat * (4 * bar + strum) + interval * 0.0008,
          durationSec: 1.6 * beat,
          midi: root + interval,
          levelDb: -3,
          ringSec: 0.1,
        });
  }
  const { signal } = perform(notes, bank, {
    sampleRate,
    durationSec: SECONDS,
    random: random.fork('player'),
  });
  for (let k = 0, at = 0.3; at < SECONDS - 0.2; k++, at += beat / 2) {
    const hat = whiteNoise(Math.round(0.04 * sampleRate), random);
    highPass(hat, 6000, sampleRate);
    for (let i = 0; i < hat.length; i++) hat[i]! *= Math.exp(-i / (0.008 * sampleRate));
    addTo(signal, levelTo(hat, -32), Math.round(at * sampleRate));
    if (k % 4 === 0) addTo(signal, knock(sampleRate, random), Math.round(at * sampleRate), 0.3);
    if (k % 4 === 2) {
      const snare = whiteNoise(Math.round(0.12 * sampleRate), random);
      for (let i = 0; i < snare.length; i++) snare[i]! *= Math.exp(-i / (0.03 * sampleRate));
      addTo(signal, levelTo(snare, -24), Math.round(at * sampleRate));
    }
  }
  highPass(signal, 280, sampleRate);
  return inAir(signal, s);
}

function speech(s: Setting): Made {
  const out = new Float32Array(seconds(s));
  for (let at = 0.3; at < SECONDS; at += 0.3) {
    const sentence = spoken(s.sampleRate, s.random);
    addTo(out, sentence, Math.round(at * s.sampleRate));
    at += sentence.length / s.sampleRate;
  }
  return inAir(out, s);
}

export const NEGATIVES = {
  speech: { what: 'speech by espeak-ng', plays: 'guitar', installed: speechInstalled, make: speech },
  babble: {
    what: 'speech-like',
    plays: 'guitar',
    make: (s) => inAir(babble(seconds(s), s.sampleRate, s.random), s),
  },
  singing: {
    what: 'a sung line',
    plays: 'guitar',
    make: (s) => inAir(sung(seconds(s), s.sampleRate, s.random, false), s),
  },
  humming: {
    what: 'a hummed line',
    plays: 'guitar',
    make: (s) => inAir(sung(seconds(s), s.sampleRate, s.random, true), s),
  },
  metro: { what: 'a metronome', plays: 'both', make: metronome },
  handling: { what: 'knocks and rubbing', plays: 'both', make: handling },
  silence: {
    what: 'digital silence',
    plays: 'guitar',
    make: (s) => ({ signal: new Float32Array(seconds(s)), truth: [] }),
  },
  hiss: {
    what: 'hiss alone',
    plays: 'guitar',
    make: (s) => {
      const signal = new Float32Array(seconds(s));
      addHiss(signal, s.random.between(-70, -35), s.sampleRate, s.random, s.random.between(400, 9000));
      return { signal, truth: [] };
    },
  },
  backing: { what: 'the backing alone', plays: 'guitar', make: backing },
} satisfies Record<string, Family>;
