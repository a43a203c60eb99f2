import type { Plan } from './melody.ts';
import type { PlannedNote } from '../planned.ts';
import type { Random } from '../random.ts';

/** Changes to a plan's notes, one idea each. */
const mapNotes = (plan: Plan, change: (note: PlannedNote, index: number) => PlannedNote): Plan => ({
  ...plan,
  notes: plan.notes.map(change),
});

/** Steps of up to five semitones are hammered, pulled or slid with probability `share`. */
export function slurred(plan: Plan, random: Random, share: number, lengths: () => number): Plan {
  return mapNotes(plan, (note, i) => {
    const before = plan.notes[i - 1];
    if (!before) return note;
    const step = Math.abs(note.midi - before.midi);
    const joined = Math.abs(before.onsetSec + before.durationSec - note.onsetSec) < 0.002;
    return joined && step >= 1 && step <= 5 && random.chance(share) ? { ...note, slurSec: lengths() } : note;
  });
}

/** Damped by the palm: time constant 35–90 ms, low-pass 0.9–2.5 kHz, one setting for the take. */
export function palmMuted(plan: Plan, random: Random): Plan {
  const mute = { decaySec: random.between(0.035, 0.09), lowPassHz: random.between(900, 2500) };
  return mapNotes(plan, (note) => ({ ...note, mute }));
}

/** Three of four notes ring on 0.2–1.2 s under what follows; open strings sound along at −20…−28 dB. */
export function ringing(plan: Plan, random: Random, openStrings: readonly number[]): Plan {
  const rung = mapNotes(plan, (note) =>
    random.chance(0.75) ? { ...note, ringSec: random.between(0.2, 1.2) } : note,
  );
  const along: PlannedNote[] = plan.notes
    .filter(() => random.chance(0.4))
    .map((note) => ({
      onsetSec: note.onsetSec + 0.05,
      durationSec: random.between(0.5, 1.2),
      midi: random.pick(openStrings),
      levelDb: random.between(-28, -20),
      slurSec: 0.08,
      ghost: true,
    }));
  return { ...rung, notes: [...rung.notes, ...along] };
}

/** Vibrato and bends that stay one note: within ±60 cents of it. */
export function bent(plan: Plan, random: Random): Plan {
  return mapNotes(plan, (note) => {
    if (note.durationSec < 0.22 || random.chance(0.3)) return note;
    if (random.chance(0.6)) {
      const rate = 2 * Math.PI * random.between(4, 7);
      const depth = random.between(15, 60);
      const from = random.between(0.05, 0.15);
      const bend = (t: number): number =>
        t < from ? 0 : depth * Math.min(1, (t - from) / 0.15) * Math.sin(rate * (t - from));
      return { ...note, bend };
    }
    // Pushed up and let down again, or released to the note from above.
    const depth = random.between(30, 60) * (random.chance(0.8) ? 1 : -1);
    const over = random.between(0.12, 0.35);
    const bend = (t: number): number => (t > over ? 0 : depth * Math.sin((Math.PI * t) / over));
    return { ...note, bend };
  });
}

/** pp to ff: a swell through the take from `fromDb` to `toDb`, on top of the stroke's own level. */
export function swelling(plan: Plan, fromDb: number, toDb: number): Plan {
  const last = plan.notes.length - 1;
  return mapNotes(plan, (note, i) => ({
    ...note,
    levelDb: note.levelDb + fromDb + ((toDb - fromDb) * i) / Math.max(1, last),
  }));
}

/** A share of the notes is swallowed: 13–18 dB under the others. */
export function swallowed(plan: Plan, random: Random, share: number): Plan {
  return mapNotes(plan, (note, i) =>
    i > 0 && random.chance(share) ? { ...note, levelDb: random.between(-18, -13) } : note,
  );
}

/** Plucked with the finger: rises over 3–8 ms, low-pass 1.5–4 kHz. */
export function fingered(plan: Plan, random: Random): Plan {
  const lowPassHz = random.between(1500, 4000);
  return mapNotes(plan, (note) => ({
    ...note,
    finger: { riseSec: random.between(0.003, 0.008), lowPassHz },
  }));
}
