import { makeRandom, type Random } from '../../../audio-fixtures/random.ts';
import type { Evidence, Unit } from '../../../src/tests-engine/index.ts';
import { LEARNERS, type Learner, type LearnerName } from './learners.ts';

/**
 * A simulated candidate: marks are counted of notes that come off or not, some notes for half, days and single takes differ.
 * The strengths are ours: of each skill its own, two thirds between 62 and 88 of 100 notes.
 */
interface Skill {
  readonly unit: Unit;
  readonly learner: Learner;
  readonly notes: number;
  /** Of what does not come off, how much is late or early rather than wrong, and counts for half. */
  readonly halves: number;
}
const STRENGTH = { mean: 1.25, sd: 0.75 };
const DAY_SD = 0.3;
const TAKE_SD = 0.45;
const MINUTES_A_TAKE = 4;
const DAY_MS = 86_400_000;

const logistic = (x: number): number => 1 / (1 + Math.exp(-x));

export class Candidate {
  readonly skills: readonly Skill[];
  readonly #random: Random;

  constructor(seed: number, units: readonly Unit[], learner: LearnerName) {
    this.#random = makeRandom(seed);
    this.skills = units.map((unit): Skill => {
      const own = this.#random.fork(unit.what);
      const strength = STRENGTH.mean + STRENGTH.sd * own.normal();
      const [notes, halves] =
        unit.what === 'questions' ? [5, 0] : unit.what === 'chords' ? [4, 0] : [own.whole(8, 24), 0.3];
      return { unit, notes, halves, learner: LEARNERS[learner](own, strength) };
    });
  }

  #mark({ learner, notes, halves }: Skill, day: number): number {
    const chance = logistic(learner.strength() + day + TAKE_SD * this.#random.normal());
    let right = 0;
    for (let i = 0; i < notes; i++)
      right += this.#random.next() < chance ? 1 : this.#random.next() < halves ? 0.5 : 0;
    return (100 * right) / notes;
  }

  /** A day of practice: so many minutes of each unit. @returns what the record then says of it */
  practise(minutes: ReadonlyMap<Unit, number>, day: number, nowMs: number): Evidence[] {
    const today = DAY_SD * this.#random.normal();
    const found: Evidence[] = [];
    for (const skill of this.skills) {
      const own = minutes.get(skill.unit) ?? 0;
      const takes = own === 0 ? 0 : Math.max(1, Math.round(own / MINUTES_A_TAKE));
      for (let k = 0; k < takes; k++) {
        const atMs = nowMs + day * DAY_MS + 3_600_000 + found.length * 60_000;
        const { what, level } = skill.unit;
        found.push({ what, level, mark: this.#mark(skill, today), atMs });
      }
      skill.learner.live(own);
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
