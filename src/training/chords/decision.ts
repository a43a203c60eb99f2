import { evidenceOf } from '../../dsp/chords/evidence.ts';
import type { ShapeEvidence } from '../../dsp/chords/evidence.ts';
import type { Thresholds } from '../../dsp/chords/claims.ts';
import { INPUTS } from '../../dsp/chords/inputs.ts';
import { score } from '../../dsp/chords/network.ts';
import type { Network } from '../../dsp/chords/network.ts';
import { writeData } from '../data.ts';
import type { Lesson } from './lessons.ts';
import { SIZES, train } from './train.ts';

/** Instruments left out together; a bass goes with every second. */
const FOLDS: readonly (readonly string[])[] = [
  ['electric', 'fluid-nylon', 'bass'],
  ['acoustic', 'freepats-jazz'],
  ['fluid-clean', 'freepats-nylon', 'fluid-picked'],
  ['fluid-jazz', 'freepats-steel'],
];
const EPOCHS = 16;
/** Right strums that each line may accuse on its own, on instruments left out. */
const ACCUSED = { missing: 0.0012, foreign: 0.001, lower: 0.0007, bassSilent: 0.0007 } as const;
/** What is neither: at most so many right strums have a class less sure than the yes asks for. */
const UNSURE = 0.006;
/**
 * However clean the strums of the fit are, no accusation is made on log-odds under these: a room that was never heard moves tails first.
 * A chord note under the bass has few rivals: of a thousand right strums of instruments left out fewer than one has such a note over −7.
 */
const LEAST_ODDS = { foreign: 0, lower: -3 } as const;
const SCALE = 1000;
/** See {@link calibrate}. */
const HELD = 10;

interface Judged {
  readonly lesson: Lesson;
  readonly evidence: ShapeEvidence;
}

function evidence(lesson: Lesson, network: Network): Judged {
  const scores = Float64Array.from({ length: lesson.to - lesson.from + 1 }, (_, i) =>
    score(network, lesson.inputs, i * INPUTS),
  );
  // Only shape and range are read of a fit.
  const fit = { asked: lesson.asked, from: lesson.from, to: lesson.to } as Parameters<typeof evidenceOf>[0];
  return { lesson, evidence: evidenceOf(fit, scores) };
}

/** The value under which `share` of the values lie, between the two that it falls between. */
function tail(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const place = Math.max(0, share * sorted.length - 0.5);
  const low = sorted[Math.floor(place)]!;
  const high = sorted[Math.min(sorted.length - 1, Math.floor(place) + 1)]!;
  return low + (high - low) * (place - Math.floor(place));
}

const least = (map: ReadonlyMap<number, number>): number => Math.min(...map.values());
const most = (map: ReadonlyMap<number, number>): number => Math.max(-50, ...map.values());
const round = (value: number): number => Math.round(value * 10) / 10;

function linesOf(judged: readonly Judged[]): Thresholds {
  const right = judged.filter(({ lesson }) => lesson.right).map(({ evidence: e }) => e);
  const present = right.map(({ asked }) => least(asked));
  const alone = right.map(({ foreign }) => most(foreign));
  const missing = Math.min(0, round(tail(present, ACCUSED.missing)));
  const foreign = Math.max(LEAST_ODDS.foreign, round(upperTail(alone, ACCUSED.foreign)));
  // A silent bass sounds the same as one doubled above it: its line is drawn on strums in which the bass does sound.
  const basses = judged
    .filter(({ lesson }) => lesson.right && lesson.sounding.includes(Math.min(...lesson.asked)))
    .map(({ evidence: e }) => e.bass);
  const lowers = right.map(({ lower }) => lower?.logOdds ?? -50);
  return {
    missing,
    foreign,
    lower: Math.max(LEAST_ODDS.lower, round(upperTail(lowers, ACCUSED.lower))),
    bassSilent: Math.min(0, round(tail(basses, ACCUSED.bassSilent))),
    yesPresent: round(Math.max(missing, Math.min(0.5, tail(present, UNSURE)))),
    yesForeign: round(Math.min(foreign, Math.max(-2, upperTail(alone, UNSURE)))),
  };
}

/** The value that `share` of the values lie over. */
function upperTail(values: readonly number[], share: number): number {
  return -tail(
    values.map((v) => -v),
    share,
  );
}

/**
 * Logistic line through log-odds and truth (Platt 1999) by Newton's steps, each halved until it helps. Classes are nearly always told
 * apart, which alone would ask for an infinite slope: a slope of 1, what the network itself says, is held to with the weight of
 * {@link HELD} strums.
 */
function calibrate(pairs: readonly (readonly [z: number, sounds: boolean])[]): {
  slope: number;
  offset: number;
} {
  const loss = (slope: number, offset: number): number => {
    let sum = 0.5 * HELD * ((slope - 1) ** 2 + offset ** 2);
    for (const [z, sounds] of pairs) {
      const signed = (sounds ? 1 : -1) * (slope * z + offset);
      sum += signed > 0 ? Math.log1p(Math.exp(-signed)) : Math.log1p(Math.exp(signed)) - signed;
    }
    return sum;
  };
  let [slope, offset] = [1, 0];
  for (let step = 0; step < 30; step++) {
    let [g0, g1, h00, h01, h11] = [HELD * offset, HELD * (slope - 1), HELD, 0, HELD];
    for (const [z, sounds] of pairs) {
      const p = 1 / (1 + Math.exp(-(slope * z + offset)));
      const w = p * (1 - p);
      g0 += p - (sounds ? 1 : 0);
      g1 += (p - (sounds ? 1 : 0)) * z;
      h00 += w;
      h01 += w * z;
      h11 += w * z * z;
    }
    const det = h00 * h11 - h01 * h01;
    const before = loss(slope, offset);
    let by = 1;
    const moved = (): [number, number] => [
      slope - (by * (h00 * g1 - h01 * g0)) / det,
      offset - (by * (h11 * g0 - h01 * g1)) / det,
    ];
    while (by > 1e-6 && loss(...moved()) > before) by /= 2;
    [slope, offset] = moved();
  }
  return { slope: Math.round(slope * 1000) / 1000, offset: Math.round(offset * 1000) / 1000 };
}

const classesOf = (lesson: Lesson): Set<number> => new Set(lesson.sounding.map((midi) => midi % 12));

export function fitDecision(lessons: readonly Lesson[]): void {
  const left: Judged[] = [];
  for (const [i, fold] of FOLDS.entries()) {
    const network = train(
      lessons.filter(({ bank }) => !fold.includes(bank)),
      { epochs: EPOCHS, seed: 100 + i },
    );
    for (const lesson of lessons) if (fold.includes(lesson.bank)) left.push(evidence(lesson, network));
    process.stderr.write(`fold ${i + 1} of ${FOLDS.length} done\n`);
  }
  const undriven = left.filter(({ lesson }) => !lesson.driven);
  const driven = left.filter(({ lesson }) => lesson.driven);
  const thresholds = { undriven: linesOf(undriven), driven: linesOf(driven) };
  const pairs = (which: 'asked' | 'foreign') =>
    left.flatMap(({ lesson, evidence: e }) => {
      const sounding = classesOf(lesson);
      return [...e[which]].map(([pitchClass, z]) => [z, sounding.has(pitchClass)] as const);
    });
  const calibration = { asked: calibrate(pairs('asked')), foreign: calibrate(pairs('foreign')) };
  const network = train(lessons, { epochs: EPOCHS, seed: 99 });
  write(network, thresholds, calibration, lessons.length);
  for (const [name, judged] of [
    ['undriven', undriven],
    ['driven', driven],
  ] as const)
    process.stdout.write(
      `${name} ${JSON.stringify(thresholds[name])}\n${report(judged, thresholds[name])}\n`,
    );
  process.stdout.write(`calibration ${JSON.stringify(calibration)}\n`);
}

function report(judged: readonly Judged[], lines: Thresholds): string {
  const faults = [...new Set(judged.map(({ lesson }) => lesson.fault))];
  return faults
    .map((fault) => {
      const own = judged.filter(({ lesson }) => lesson.fault === fault);
      const no = own.filter(
        ({ evidence: e }) =>
          least(e.asked) < lines.missing ||
          most(e.foreign) > lines.foreign ||
          (e.lower !== null && e.lower.logOdds > lines.lower) ||
          e.bass < lines.bassSilent,
      ).length;
      return `  ${fault}: no ${no} of ${own.length}`;
    })
    .join('\n');
}

function write(
  { mean, deviation, layers }: Network,
  thresholds: { readonly undriven: Thresholds; readonly driven: Thresholds },
  calibration: unknown,
  strums: number,
): void {
  const numbers = [mean, deviation, ...layers.flatMap(({ weights, biases }) => [weights, biases])]
    .flatMap((part) => Array.from(part, (v) => Math.round(v * SCALE)))
    .join(' ');
  writeData(
    'chords/fitted/decision.json',
    `Fitted by \`npm run fit -- chords\` on ${strums} strums; lines and calibration from instruments left out of the fit, a fold at a time.`,
    { thresholds, calibration, network: { sizes: SIZES, scale: SCALE, numbers } },
  );
}
