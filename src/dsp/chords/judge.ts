import { cents } from '../../music/units.ts';
import { claimsOf, nothingClaimed, severity, verdictOf } from './claims.ts';
import type { Thresholds } from './claims.ts';
import {
  GUITAR_LOWEST,
  HIGHEST,
  LEAST_SOUNDING_SEC,
  LOWEST,
  PARTIALS_OVER,
  SETTLE_SEC,
} from './constants.ts';
import { soundsDriven } from './driven.ts';
import { evidenceOf, headroomDb, relativeDb, scoreShape, SURELY } from './evidence.ts';
import type { ShapeEvidence } from './evidence.ts';
import { dictionary, fitShape, prepareStrum, readingsOf } from './fitShape.ts';
import type { FittedShape } from './fitShape.ts';
import { CALIBRATION, NETWORK, THRESHOLDS } from './fitted/decision.ts';
import { fitGains } from './gains.ts';
import { readNetwork } from './network.ts';
import { strumSpectrum } from './strumSpectrum.ts';
import type {
  AskedChord,
  ChordDoubt,
  ChordFindings,
  ClassEvidence,
  JudgedChord,
  Strum,
} from '../../music/chords/heard.ts';
import { excuseBacking } from './leftover.ts';
import type { HeardStrum } from './heardStrum.ts';
import { likelyVoicing } from './voicing.ts';
import { WORK_RATE } from '../signal/prepared.ts';

export interface JudgeOptions {
  /** The instrument's lowest open string, MIDI; default D2, a guitar's sixth string let down. */
  readonly lowest?: number;
  /** Overdriven? Ask the player: where nothing is said only two thirds of what is are found. */
  readonly driven?: boolean;
  /** In place of {@link SURER_OVER_BACKING}: for the bench that chooses it. */
  readonly surerOverBacking?: number;
}

const LEAST_AGREEMENT = 0.3;
const LEAST_HEADROOM_DB = 8;
/** Share of the spectrum that no strings explain: greater than in any strum of the fit (0.41 at most of 5000), see README. */
const MOST_UNEXPLAINED = 0.45;

const network = readNetwork(NETWORK);

/**
 * A rake's first frames wait for half of its strings.
 * @param bleed the backing taken out of the same samples, where there was one
 */
export function prepareHeard(
  samples: Float32Array,
  strum: Strum,
  bleed: Float32Array | null = null,
): HeardStrum {
  const first = Math.round(Math.max(strum.firstSec, strum.fullSec - SETTLE_SEC / 2) * WORK_RATE);
  const until = Math.round(strum.untilSec * WORK_RATE);
  return {
    ...strum,
    prepared: prepareStrum(strumSpectrum(samples, first, until)),
    soundsDriven: soundsDriven(samples, first),
    bleedDb: bleed && strumSpectrum(bleed, first, until).db,
  };
}

const NOTHING: ChordFindings = {
  missing: [],
  foreign: [],
  lowerNote: null,
  bassSilent: false,
  another: false,
};

function check(notes: readonly number[], what: string, low: number, high: number): void {
  if (notes.length === 0) throw new RangeError(`${what} must not be empty`);
  for (const note of notes)
    if (!Number.isInteger(note) || note < low || note > high)
      throw new RangeError(`${what} must be whole numbers ${low} to ${high}, got ${note}`);
}

/**
 * Was this strum the chord asked for?
 * @throws RangeError where a shape is empty or holds what is no note from E1 to A5 (28 to 81), or a class is not 0 to 11
 */
export function judgeStrum(strum: HeardStrum, asked: AskedChord, options: JudgeOptions = {}): JudgedChord {
  const readings = readingsOf(strum.prepared).map((prepared) =>
    judgeReading({ ...strum, prepared }, asked, options),
  );
  return readings.reduce((best, one) => (milder(one, best) ? one : best));
}

const RANK = { yes: 0, 'cannot-tell': 1, no: 2 } as const;
const claimed = ({ findings: { missing, foreign } }: JudgedChord): number => missing.length + foreign.length;
const milder = (a: JudgedChord, b: JudgedChord): boolean =>
  RANK[a.verdict] < RANK[b.verdict] || (a.verdict === b.verdict && claimed(a) < claimed(b));

/** The strum at one reading of its tuning. */
function judgeReading(strum: HeardStrum, asked: AskedChord, options: JudgeOptions): JudgedChord {
  const { lowest = GUITAR_LOWEST } = options;
  const driven = options.driven ?? strum.soundsDriven;
  const lines = linesFor(strum, driven, options.surerOverBacking);
  if ('shapes' in asked) {
    if (asked.shapes.length === 0) throw new RangeError('at least one shape must be asked for');
    for (const shape of asked.shapes) check(shape, 'a shape', LOWEST, HIGHEST);
    const tried = asked.shapes.map((shape, index) => ({ ...weigh(strum, [...shape], lowest), index }));
    tried.sort((a, b) => severity(a.evidence, lines) - severity(b.evidence, lines));
    const best = tried[0]!;
    return conclude(strum, best, claimsOf(best.evidence, lines), lines, driven, best.index);
  }
  check(asked.classes, 'classes', 0, 11);
  const classes = [...new Set(asked.classes)];
  const weighed = weigh(strum, likelyVoicing(strum.prepared, classes, lowest), lowest, true);
  const claims = claimsOf(weighed.evidence, lines);
  const one = oneNote(weighed, lines);
  const wrongBass =
    asked.bass === undefined || asked.bass === null ? null : otherBass(weighed, asked.bass, lines);
  const needed = classes.filter((pitchClass) => !asked.optional?.includes(pitchClass));
  const silent = one === null ? [] : needed.filter((pitchClass) => pitchClass !== one.pitchClass);
  // A power chord may be so voiced that its fifth is a twelfth: that is not claimed.
  const alone = one !== null && one.surely && silent.length > 1;
  const missing = needed.filter((pitchClass) => claims.missing.includes(pitchClass));
  return conclude(
    strum,
    weighed,
    { ...claims, missing: alone ? silent : missing, lowerNote: wrongBass, bassSilent: false },
    lines,
    driven,
    null,
    { optional: asked.optional ?? [], unsure: silent.length > 0 },
  );
}

/**
 * The class of a string that may sound all alone: whatever else would sound lies on its partials, as of any single note. No guitarist
 * voices a chord of three classes so; where something else sounds, be it just not ruled out, it is not `surely` so. Null where other
 * notes sound.
 */
function oneNote(
  { fit, evidence: { scores } }: Weighed,
  lines: Thresholds,
): { readonly pitchClass: number; readonly surely: boolean } | null {
  const lowest = scores.findIndex((z) => z > SURELY);
  if (lowest < 0) return null;
  const pitchClass = (fit.from + lowest) % 12;
  let surest = -Infinity;
  scores.forEach((z, i) => {
    const over = i - lowest;
    if (over % 12 === 0 || PARTIALS_OVER.includes(over)) return;
    if (fit.asked.includes(fit.from + i)) surest = Math.max(surest, z);
  });
  return surest > lines.yesPresent ? null : { pitchClass, surely: surest < lines.missing };
}

/**
 * Where a backing was taken out, what sounds beside the chord must be surer by this, in log-odds: what is left of the backing speaks for
 * it as well. In between nothing is said.
 */
const SURER_OVER_BACKING = 2;

function linesFor({ bleedDb }: HeardStrum, driven: boolean, surer = SURER_OVER_BACKING): Thresholds {
  const lines = driven ? THRESHOLDS.driven : THRESHOLDS.undriven;
  if (!bleedDb) return lines;
  return { ...lines, foreign: lines.foreign + surer, lower: lines.lower + surer };
}

interface Weighed {
  readonly fit: FittedShape;
  readonly evidence: ShapeEvidence;
}

function weigh(strum: HeardStrum, notes: readonly number[], lowest: number, byName = false): Weighed {
  const fit = fitShape(strum.prepared, notes, lowest);
  const scores = scoreShape(fit, network);
  return { fit, evidence: evidenceOf(fit, excuseBacking(strum, fit, scores), byName) };
}

/** A surely sounding note under every octave of the bass's class that may sound; null where the bass may be right. */
function otherBass({ fit, evidence }: Weighed, bass: number, lines: Thresholds): number | null {
  for (let i = 0; i < evidence.scores.length; i++) {
    const midi = fit.from + i;
    const z = evidence.scores[i]!;
    if (midi % 12 === bass && z > lines.missing) return null;
    if (midi % 12 !== bass && z > Math.max(lines.lower, lines.foreign)) return midi;
  }
  return null;
}

function doubtOf(strum: HeardStrum, fit: FittedShape): ChordDoubt | null {
  const agree = strum.prepared.tuning.confidence >= LEAST_AGREEMENT;
  // A syllable is short too: it is nobody's stroke.
  if (strum.untilSec - strum.firstSec < LEAST_SOUNDING_SEC)
    return agree && fit.gains.unexplained <= MOST_UNEXPLAINED ? 'too-short' : 'not-a-chord';
  if (headroomDb(fit) < LEAST_HEADROOM_DB) return 'too-quiet';
  if (fit.gains.unexplained > MOST_UNEXPLAINED) return 'not-a-chord';
  if (!agree) return 'out-of-tune';
  return null;
}

/** Is what sounds explained by strings that agree on a tuning? Asked of a chord that nobody plays: no note is favoured. */
export function soundsOfStrings({ prepared }: HeardStrum): boolean {
  const { unexplained } = fitGains(prepared.axis, dictionary, () => false, GUITAR_LOWEST);
  return unexplained <= MOST_UNEXPLAINED && prepared.tuning.confidence >= LEAST_AGREEMENT;
}

const probability = (
  z: number,
  { slope, offset }: { readonly slope: number; readonly offset: number },
): number => 1 / (1 + Math.exp(-(slope * z + offset)));

const SURE = { optional: [], unsure: false } as const;

function conclude(
  strum: HeardStrum,
  { fit, evidence }: Weighed,
  claims: ChordFindings,
  lines: Thresholds,
  driven: boolean,
  shape: number | null,
  { optional, unsure }: { readonly optional: readonly number[]; readonly unsure: boolean } = SURE,
): JudgedChord {
  const doubt = doubtOf(strum, fit);
  // What may lack may be unsure as well.
  const needed = {
    ...evidence,
    asked: new Map([...evidence.asked].filter(([pc]) => !optional.includes(pc))),
  };
  const heard = nothingClaimed(claims) ? verdictOf(needed, claims, lines) : 'no';
  const verdict = doubt || (unsure && heard === 'yes') ? 'cannot-tell' : heard;
  const classes: ClassEvidence[] = [
    ...[...evidence.asked].map(([pitchClass, z]) => ({
      pitchClass,
      asked: true,
      probability: probability(z, CALIBRATION.asked),
      logOdds: z,
    })),
    ...[...evidence.foreign].map(([pitchClass, z]) => ({
      pitchClass,
      asked: false,
      probability: probability(z, CALIBRATION.foreign),
      logOdds: z,
    })),
  ];
  return {
    verdict,
    doubt: doubt ?? (verdict === 'cannot-tell' ? 'close' : null),
    findings: doubt ? NOTHING : claims,
    classes: classes.sort((a, b) => a.pitchClass - b.pitchClass),
    notes: Array.from(evidence.scores, (logOdds, i) => ({
      midi: fit.from + i,
      asked: fit.asked.includes(fit.from + i),
      logOdds,
      levelDb: relativeDb(fit, fit.from + i),
    })),
    shape,
    tuningCents: cents(strum.prepared.tuning.cents),
    driven,
  };
}
