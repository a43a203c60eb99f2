import type { Random } from '../../../audio-fixtures/random.ts';

/**
 * How one skill of a simulated candidate changes with practice and time. Four accounts of it that disagree where it matters
 * to a plan: how much a long stretch on one day is worth, and what is lost on a day without. Strengths are logits of a
 * note's chance. Equations as published, from memory; rates, ceilings and what came before are ours, drawn anew for each
 * skill: no real player was fitted.
 */
export interface Learner {
  /** On the present day, before its practice. */
  strength(): number;
  /** Minutes of the present day, 0: none; then it is tomorrow. */
  live(minutes: number): void;
}

export type LearnerName = 'activation' | 'power' | 'exponential' | 'daily';

const DAY_SEC = 86_400;
const MINUTES_A_TAKE = 4;

/**
 * Activation (Pavlik & Anderson 2005): each take leaves a trace that fades as a power of time, the faster the stronger the
 * skill was when it was made, whence the gain of spacing; time between days counts for a fortieth of time within one.
 */
class Activation implements Learner {
  static readonly scale = 0.217;
  static readonly intercept = 0.177;
  static readonly between = 0.025;
  /** One unit of activation in logits: theirs for words is 4, far steeper than anything in playing; ours, as the steps of playing have many parts. */
  readonly #slope: number;
  readonly #from: number;
  readonly #first: number;
  #now = 0;
  readonly #traces: { readonly at: number; readonly weight: number; readonly fades: number }[] = [];

  constructor(random: Random, strength: number) {
    this.#slope = random.between(1, 2);
    this.#from = strength;
    // Some weeks of lessons lie behind: a few takes a week.
    const before = random.whole(6, 20);
    for (let k = before; k > 0; k--) {
      this.#now = (before - k) * 2.5 * DAY_SEC * Activation.between;
      this.#practise(1);
    }
    this.#now += 2.5 * DAY_SEC * Activation.between;
    this.#first = this.#activation();
  }
  #activation(): number {
    return Math.log(
      this.#traces.reduce(
        (sum, { at, weight, fades }) => sum + weight * Math.max(1, this.#now - at) ** -fades,
        1e-6,
      ),
    );
  }
  #practise(weight: number): void {
    const fades = this.#traces.length === 0 ? 0 : Activation.scale * Math.exp(this.#activation());
    this.#traces.push({ at: this.#now, weight, fades: fades + Activation.intercept });
    this.#now += weight * MINUTES_A_TAKE * 60;
  }
  strength(): number {
    return this.#from + this.#slope * (this.#activation() - this.#first);
  }
  live(minutes: number): void {
    const began = this.#now;
    for (let left = minutes / MINUTES_A_TAKE; left > 1e-9; left--) this.#practise(Math.min(1, left));
    this.#now = Math.max(this.#now, began + DAY_SEC * Activation.between);
  }
}

/**
 * The power law of practice (Newell & Rosenbloom 1981): the odds of a slip fall as a power of all minutes ever practised;
 * nothing is lost in two months (Fleishman & Parker 1962 found next to nothing lost of a skill of the hands in nine).
 */
class Power implements Learner {
  readonly #exponent: number;
  readonly #from: number;
  readonly #before: number;
  #minutes = 0;
  constructor(random: Random, strength: number) {
    this.#from = strength;
    this.#exponent = random.between(0.4, 1.1);
    this.#before = random.between(60, 300);
  }
  strength(): number {
    return this.#from + this.#exponent * Math.log(1 + this.#minutes / this.#before);
  }
  live(minutes: number): void {
    this.#minutes += minutes;
  }
}

/** Twice as long on one day brings less than twice as much (distributed practice: Donovan & Radosevich 1999): ours. */
const worth = (minutes: number): number => 1.6 * (1 - Math.exp(-minutes / 20));

/**
 * An exponential law of practice towards a ceiling (Heathcote, Brown & Mewhort 2000), and forgetting every day with a
 * half-life that grows with each day of practice (Settles & Meeder 2016), from some weeks on: of trained skills about a
 * third is lost in a quarter of a year without (in the range of Arthur, Bennett, Stanush & McNelly 1998).
 */
class Exponential implements Learner {
  readonly #base: number;
  readonly #ceiling: number;
  readonly #rate: number;
  readonly #longest: number;
  readonly #standsStill: boolean;
  #halfLife: number;
  #strength: number;
  constructor(random: Random, strength: number, { halfLife, longest, standsStill }: Forgetting) {
    this.#strength = strength;
    this.#base = strength - 0.6 - 0.9 * random.next();
    this.#ceiling = strength + 1.2 + 1.2 * random.next();
    this.#rate = 0.03 + 0.07 * random.next();
    this.#halfLife = halfLife;
    this.#longest = longest;
    this.#standsStill = standsStill;
  }
  strength(): number {
    return this.#strength;
  }
  live(minutes: number): void {
    if (minutes > 0) {
      this.#strength += (this.#ceiling - this.#strength) * (1 - (1 - this.#rate) ** worth(minutes));
      this.#halfLife = Math.min(this.#longest, this.#halfLife * 1.25);
    }
    if (minutes === 0 || !this.#standsStill)
      this.#strength -= Math.max(0, this.#strength - this.#base) * (1 - 2 ** (-1 / this.#halfLife));
  }
}
interface Forgetting {
  readonly halfLife: number;
  readonly longest: number;
  /** Whatever is played at all on a day loses nothing on it. */
  readonly standsStill: boolean;
}

export const LEARNERS: Readonly<Record<LearnerName, (random: Random, strength: number) => Learner>> = {
  activation: (random, strength) => new Activation(random, strength),
  power: (random, strength) => new Power(random, strength),
  exponential: (random, strength) =>
    new Exponential(random, strength, { halfLife: 30, longest: 150, standsStill: false }),
  // The hardest on any plan that leaves something out: a day without costs up to a twelfth of all that was learnt, and
  // a minute a day keeps it.
  daily: (random, strength) =>
    new Exponential(random, strength, { halfLife: 8, longest: 60, standsStill: true }),
};
