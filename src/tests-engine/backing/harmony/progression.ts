import { isPitched } from '../../../music/kinds.ts';
import type { ChordSpan, PracticeTest } from '../../../music/score.ts';
import { chordClasses, chordSymbol, type QualityId } from '../../../music/chords/index.ts';
import type { Arranger } from '../../../music/styles.ts';
import { ticks } from '../../../music/units.ts';
import { mix } from '../../material/random/random.ts';
import { barTicks } from '../../../music/metre.ts';
import { keyClasses } from '../scale.ts';
import { barStresses, clash, meeting, sungNotes, type Sung } from './fit.ts';
import { homeward, ownSeventh } from './homeward.ts';
import { type Fullness, type Option, isBluesy, palette, rootName } from './palette.ts';

/** What a backing's harmony is found for. */
export type HarmonyRequest = Pick<PracticeTest, 'kind' | 'key' | 'phrase' | 'level' | 'seed' | 'question'> & {
  readonly fullness: Fullness;
};

/**
 * Costs, in units of "a stressed note that does not belong to its chord and goes nowhere" = 2. Ours, chosen by
 * ear and by what bench:material counts.
 */
const COST = {
  foreign: 2,
  pedal: 0.1,
  resolvedOnStress: 0.5,
  /** A note that is the chord's own minor seventh; since arranger 4. */
  seventh: 0.25,
  passing: 0.12,
  blue: 0.3,
  clash: 5,
  notTonicAtStart: 2.5,
  notTonicAtEnd: 6,
  /** The last change is no cadence. */
  noCadence: 4,
  weakCadence: 1.2,
  /** Over a bar line the chord stays. */
  standing: 0.9,
  /** Inside a bar the chord changes: dear at first, ordinary later. */
  early: 1.4,
  later: 0.7,
  retrogression: 1.2,
  /** A chord with a tone that another melody note contradicts somewhere in the phrase. */
  contradicted: 6,
  /** Chance's share, so that two phrases of one shape do not always get the same chords. */
  chance: 0.5,
};
/** Up to this level, and in phrases longer than two bars, a bar keeps its chord, but for the cadence. */
const SLOW_LEVELS = 3;
/** The offset basis of FNV-1a: any odd number would do. */
const HASH_START = 0x811c9dc5;

/** A stretch over which the chord stands still: a part of a bar. */
interface Segment {
  readonly from: number;
  readonly to: number;
  /** Begins a bar. */
  readonly opens: boolean;
}

function segments(request: HarmonyRequest): readonly Segment[] {
  const { phrase, kind } = request;
  const bar = barTicks(phrase.metre);
  const stresses = barStresses(phrase.metre);
  const found: Segment[] = [];
  for (let b = 0; b < phrase.bars; b++)
    stresses.forEach((from, i) => {
      const to = stresses[i + 1] ?? bar;
      found.push({ from: b * bar + from, to: b * bar + to, opens: i === 0 });
    });
  if (isPitched(kind)) return found;
  // Over a rhythm the chords are held: a bar each, but for the last, whose two strokes must not be the figure.
  const last = (phrase.bars - 1) * bar;
  const figures = [phrase, ...(request.question ? [request.question.other] : [])].map(({ notes }) =>
    notes.filter((n) => n.startTicks >= last).map((n) => n.startTicks - last),
  );
  const taken = figures.some((f) => f.length === stresses.length && f.every((at, i) => at === stresses[i]));
  const whole = (b: number): Segment => ({ from: b * bar, to: (b + 1) * bar, opens: true });
  const bars = Array.from({ length: phrase.bars }, (_, b) => whole(b));
  return taken ? bars : [...bars.slice(0, -1), ...found.filter(({ from }) => from >= last)];
}

/** A pedal repeats its clash with every note: four or so in a part of a bar. */
const PEDAL_NOTES = 4;

const pcs = (option: Option): readonly number[] => option.tones;

/** What a chord costs under the notes of a segment. @param pedal the phrase is one note throughout. */
function melodyCost(
  sung: readonly Sung[],
  { from, to }: Segment,
  option: Option,
  blues: boolean,
  tonic: number,
  pedal: boolean,
  seventh: number | null,
): number {
  const tones = pcs(option);
  const rootPc = tones[0]!;
  let cost = 0;
  for (const note of sung) {
    if (note.start >= to || note.end <= from) continue;
    const share = (Math.min(note.end, to) - Math.max(note.start, from)) / (to - from);
    const held = note.start < from;
    // A note held into a chord counts as struck with it.
    const heard: Sung = held ? { ...note, strong: true, long: true } : note;
    const weight = 0.5 + share;
    if (heard.pc === seventh && !tones.includes(seventh)) {
      cost += COST.seventh * weight;
      continue;
    }
    const met = meeting(heard, tones, tones, blues, tonic);
    // One note throughout is a pedal: chords may move over it.
    if (met === 'foreign') cost += (pedal ? COST.pedal : COST.foreign) * weight;
    else if (met === 'blue') cost += COST.blue * weight;
    else if (met === 'passing') cost += COST.passing;
    else if (met === 'resolved') cost += heard.strong ? COST.resolvedOnStress : COST.passing;
    const clashes = clash(heard, tones, rootPc, met);
    if (clashes && !(pedal && clashes === 'major seventh')) cost += COST.clash / (pedal ? PEDAL_NOTES : 1);
  }
  return cost;
}

/** Degrees (semitones) that lead home: a dominant, or what a mode has in its place. */
const LEADS_HOME: Readonly<Record<number, number>> = {
  7: 0,
  11: 0.3,
  10: 0.2,
  5: 0.3,
  2: 0.8,
  8: 0.8,
  1: 0.4,
};
/** What any other chord costs there; since arranger 3 nearly as much as no change: from vi or iii nothing comes home. */
const LEADS_NOWHERE: Readonly<Record<Exclude<Arranger, 4>, number>> = { 2: 1.5, 3: 3 };
/** From this arranger on the way home is {@link homeward}'s, and a chord may have the seventh that is sung over it. */
const HOMEWARD = 4;

/** What going from one chord to another costs: root motion as functional harmony likes it, whose exceptions modal harmony makes. */
function moveCost(from: Option, to: Option, blues: boolean): number {
  if (from.above === to.above) return from.triad === to.triad ? 0 : 2.5;
  // V to IV (or ii) goes back: at home in a blues only.
  if (!blues && from.above === 7 && from.triad === 'major' && (to.above === 5 || to.above === 2))
    return COST.retrogression;
  if (from.above === 7 && from.triad === 'major' && ![0, 9, 8].includes(to.above))
    return COST.retrogression / 2;
  if (from.above === 11 && to.above !== 0) return COST.retrogression;
  return 0;
}

/** A number from what is to be harmonised, so that the same phrase always gets the same chords. */
function saltOf({ seed, phrase }: HarmonyRequest): number {
  let hash = seed === null ? HASH_START : mix(seed, 17);
  for (const note of phrase.notes) hash = mix(hash, note.midi * 7919 + note.startTicks);
  return hash;
}

/** Contradicted: the chord has a tone outside the scale, a semitone from a note that the melody sings. */
function contradicted(option: Option, sung: readonly Sung[], tonic: number): boolean {
  return option.foreign.some((pc) =>
    sung.some((note) => {
      const apart = (((note.pc - pc) % 12) + 12) % 12;
      return (apart === 1 || apart === 11) && note.pc !== tonic;
    }),
  );
}

/** The seventh where the style has it and no stressed or long note rubs against it; the last chord rests without one. */
function withSeventh(
  option: Option,
  request: HarmonyRequest,
  notes: readonly Sung[],
  isLast: boolean,
  tonic: number,
  sung: number | null,
): QualityId {
  const { triad, seventh } = option;
  if (seventh !== null && !isLast && sung !== null)
    if (notes.some((note) => note.pc === sung && (note.strong || note.long))) return seventh;
  if (request.fullness === 'triads' || seventh === null) return triad;
  if (isLast && request.fullness === 'sevenths' && option.above === 0 && seventh === 'major seventh')
    return triad;
  const root = rootName(request.key.tonic, option.above);
  const top = chordClasses({ root, quality: seventh }).at(-1)!;
  const rubs = notes.some((note) => {
    if (!note.strong && !note.long) return false;
    const apart = (((note.pc - top) % 12) + 12) % 12;
    return apart === 1 || (apart === 11 && note.pc !== tonic);
  });
  return rubs ? triad : seventh;
}

/**
 * Chords for a phrase, as a musician would harmonise it: for each part of a bar the cheapest way (dynamic
 * programming) through the chords of its key, so that stressed and long notes belong to the chord or are
 * resolved, no long note stands a minor ninth over a chord tone, home is at both ends with a cadence before the
 * last, and chords change at bar lines at the lower levels, inside the bar later.
 *
 * @param arranger whose rules hold: codes of an earlier one must give its chords
 * @returns spans that fill the phrase from its first bar line to its last; neighbours differ.
 * @throws RangeError for a key that is none.
 */
export function progression(request: HarmonyRequest, arranger: Arranger): readonly ChordSpan[] {
  if (arranger >= HOMEWARD) return chordsFor(request, 0, HOMEWARD);
  const elsewhere = LEADS_NOWHERE[arranger as 2 | 3];
  const chords = chordsFor(request, COST.noCadence, elsewhere);
  // One chord throughout is no harmony: rather a note that rubs.
  return chords.length > 1 ? chords : chordsFor(request, NEVER, elsewhere);
}

const NEVER = 1000;

/**
 * What a chord before the last costs. Where the scale has its leading note (harmonic minor), bVI and ii° do not lead
 * home past the dominant, since arranger 3.
 */
function leadsHome(above: number, { key }: HarmonyRequest, elsewhere: number): number {
  const past = elsewhere > LEADS_NOWHERE[2] && key.scale === 'harmonic minor' && [2, 8].includes(above);
  return past ? elsewhere : (LEADS_HOME[above] ?? elsewhere);
}

function chordsFor(request: HarmonyRequest, noCadence: number, elsewhere: number): readonly ChordSpan[] {
  const { key, fullness } = request;
  const { tonic } = keyClasses(key);
  const blues = (fullness === 'blues' && isBluesy(key.scale)) || key.scale === 'blues';
  const options = palette(key, fullness);
  const parts = segments(request);
  const sung = sungNotes(request.phrase);
  const salt = saltOf(request);
  const slow = request.phrase.bars > 2 || (request.level !== null && request.level <= SLOW_LEVELS);
  const inside = slow ? COST.early : COST.later;
  // Where there is room for two chords only, the first leads to the last.
  const start = parts.length > 2 ? COST.notTonicAtStart : 0;
  const last = parts.length - 1;
  const lastBar = parts.findLastIndex(({ opens }) => opens);
  const base = options.map((o) => o.strangeness + (contradicted(o, sung, tonic) ? COST.contradicted : 0));
  interface Path {
    readonly cost: number;
    readonly chosen: readonly number[];
  }
  const newer = elsewhere === HOMEWARD;
  const costs: number[][] = [];
  let paths: Path[] = [];
  parts.forEach((part, i) => {
    const own = options.map((option, k) => {
      const chance = (mix(salt + i, k) / 4294967296) * COST.chance;
      const place =
        (i === 0 && option.above !== 0 ? start : 0) +
        (i === last && option.above !== 0 ? COST.notTonicAtEnd : 0);
      return (
        base[k]! +
        chance +
        place +
        melodyCost(
          sung,
          part,
          option,
          blues,
          tonic,
          !isPitched(request.kind),
          newer && i < last ? ownSeventh(option) : null,
        )
      );
    });
    costs.push(own);
    if (newer) return;
    if (i === 0) {
      paths = own.map((cost, k) => ({ cost, chosen: [k] }));
      return;
    }
    paths = options.map((option, k) => {
      let best: Path | null = null;
      let least = Infinity;
      for (const path of paths) {
        const before = options[path.chosen.at(-1)!]!;
        const same = before === option;
        let move = moveCost(before, option, blues);
        if (part.opens && same) move += COST.standing;
        if (!part.opens && !same && i < lastBar) move += inside;
        if (i === last)
          // The last chord is come to from another that leads there: that is the cadence.
          move += same ? noCadence : leadsHome(before.above, request, elsewhere) * COST.weakCadence;
        if (path.cost + move < least) [best, least] = [path, path.cost + move];
      }
      return { cost: least + own[k]!, chosen: [...best!.chosen, k] };
    });
  });
  const chosen = newer
    ? homeward(request, options, parts, costs, (before, option, i) => {
        const part = parts[i]!;
        const same = before === option;
        return (
          moveCost(before, option, blues) +
          (part.opens && same ? COST.standing : 0) +
          (!part.opens && !same && i < lastBar ? inside : 0)
        );
      })
    : paths.reduce((a, b) => (b.cost < a.cost ? b : a)).chosen;
  const merged: { option: Option; from: number; to: number }[] = [];
  parts.forEach(({ from, to }, i) => {
    const option = options[chosen[i]!]!;
    const before = merged.at(-1);
    if (before && before.option === option) before.to = to;
    else merged.push({ option, from, to });
  });
  return merged.map(({ option, from, to }, i) => {
    const over = sung.filter((note) => note.start < to && note.end > from);
    const quality = withSeventh(
      option,
      request,
      over,
      i === merged.length - 1,
      tonic,
      newer ? ownSeventh(option) : null,
    );
    const root = rootName(key.tonic, option.above);
    return {
      startTicks: ticks(from),
      durationTicks: ticks(to - from),
      symbol: chordSymbol({ root, quality, bass: null }),
    };
  });
}
