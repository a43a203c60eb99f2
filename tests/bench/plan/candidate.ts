import { makeRandom, type Random } from '../../../audio-fixtures/random.ts';
import type { Evidence, Unit } from '../../../src/tests-engine/index.ts';

/**
 * A simulated candidate, unlike the estimate's model: marks are counted of notes that come off or not, days and single
 * takes differ, what is practised nears a ceiling of its own (exponential law of practice: Heathcote, Brown & Mewhort
 * 2000, from memory), what is not is forgotten with a half-life that grows with each day of practice (Settles & Meeder
 * 2016, from memory). Strengths, rates and ceilings are ours; no real player was fitted.
 */
interface Skill {
  readonly unit: Unit;
  /** Logit of a note's chance on a usual day. */
  strength: number;
  /** What it falls back to. */
  readonly base: number;
  readonly ceiling: number;
  /** Share of the way to the ceiling that twenty minutes bring. */
  readonly rate: number;
  halfLifeDays: number;
  readonly notes: number;
}
const DAY_SD = 0.3;
const TAKE_SD = 0.45;
const MINUTES_A_TAKE = 4;
const DAY_MS = 86_400_000;

const logistic = (x: number): number => 1 / (1 + Math.exp(-x));

export class Candidate {
  readonly skills: Skill[];
  readonly #random: Random;

  constructor(seed: number, units: readonly Unit[]) {
    this.#random = makeRandom(seed);
    this.skills = units.map((unit) => {
      const base = 0.2 + 0.7 * this.#random.normal();
      const strength = base + 0.6 + 0.9 * this.#random.next();
      return {
        ...{ unit, base, strength },
        ceiling: strength + 1.2 + 1.2 * this.#random.next(),
        rate: 0.03 + 0.07 * this.#random.next(),
        halfLifeDays: 8,
        notes:
          unit.what === 'questions'
            ? 5
            : unit.what === 'chords'
              ? 4
              : 8 + Math.floor(16 * this.#random.next()),
      };
    });
  }

  #mark({ strength, notes }: Skill, day: number): number {
    const chance = logistic(strength + day + TAKE_SD * this.#random.normal());
    let right = 0;
    for (let i = 0; i < notes; i++) if (this.#random.next() < chance) right++;
    return (100 * right) / notes;
  }

  /** A day of practice: so many minutes of each unit. @returns what the record then says of it */
  practise(minutes: ReadonlyMap<Unit, number>, day: number, nowMs: number): Evidence[] {
    const today = DAY_SD * this.#random.normal();
    const found: Evidence[] = [];
    for (const skill of this.skills) {
      const own = minutes.get(skill.unit) ?? 0;
      const lost = (skill.strength - skill.base) * (1 - 2 ** (-1 / skill.halfLifeDays));
      if (own === 0) {
        skill.strength -= Math.max(0, lost);
        continue;
      }
      const takes = Math.max(1, Math.round(own / MINUTES_A_TAKE));
      for (let k = 0; k < takes; k++)
        found.push({
          ...{ what: skill.unit.what, level: skill.unit.level },
          ...{
            mark: this.#mark(skill, today),
            atMs: nowMs + day * DAY_MS + 3_600_000 + found.length * 60_000,
          },
        });
      // Twenty minutes bring `rate`; twice as long brings less than twice as much.
      skill.strength +=
        (skill.ceiling - skill.strength) * (1 - (1 - skill.rate) ** (1.6 * (1 - Math.exp(-own / 20))));
      skill.halfLifeDays = Math.min(60, skill.halfLifeDays * 1.25);
    }
    return found;
  }

  /** The true chance that each unit comes out "there" at a sitting today. */
  truth(there: number, draws = 800): number[] {
    return this.skills.map((skill) => {
      let reached = 0;
      for (let k = 0; k < draws; k++) {
        const today = DAY_SD * this.#random.normal();
        let sum = 0;
        for (let i = 0; i < skill.unit.count; i++) sum += this.#mark(skill, today);
        if (sum / skill.unit.count >= there) reached++;
      }
      return reached / draws;
    });
  }
}
