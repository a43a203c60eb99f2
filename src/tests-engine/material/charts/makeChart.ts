import { Progression } from 'tonal';
import type { Chart } from '../../../music/chart.ts';
import { chordSymbol, nameAbove, parseChord, pitchClass, type Chord } from '../../../music/chords/index.ts';
import { METRES, barTicks } from '../../../music/metre.ts';
import type { ChordSpan } from '../../../music/score.ts';
import { bpm, ticks } from '../../../music/units.ts';
import { CHORD_SHAPES } from '../chords/shapes.ts';
import { makeRandom, type Random } from '../random/random.ts';
import { CHART_LEVELS, type ChartForm } from './levels.ts';

/** Raise it whenever the same request could give another chart. */
export const CHARTS_VERSION = 1;

export interface ChartRequest {
  /** 1…10 of the charts' own ladder. */
  readonly level: number;
  /** Unsigned 32-bit. */
  readonly seed: number;
  /** Overrides what the level would draw. */
  readonly tempoBpm?: number;
  readonly style?: string;
}

/** Keeps draws apart from those of other material of the same seed. */
const STREAM = 13;
const TEMPO_STEP = 2;
const TRIPLET_SWING = 2 / 3;
/** Root and bass as the neck's shapes name them: any spelling of the same pitch. */
const shapeKey = ({ root, quality, bass }: Chord): string =>
  [pitchClass(root), quality, bass === null ? '' : pitchClass(bass)].join(' ');
const PLAYABLE = new Set(CHORD_SHAPES.map(({ chord }) => shapeKey(chord)));

/** Is there a shape for it on a guitar in standard tuning? */
export const isPlayable = (chord: Chord): boolean => PLAYABLE.has(shapeKey(chord));

/** Names that no chart would use are written plainly. */
const PLAIN: Readonly<Record<string, string>> = { Cb: 'B', Fb: 'E', 'E#': 'F', 'B#': 'C' };
function plain(name: string): string {
  if (name.length > 2) return nameAbove('C', PLAIN_LETTER[pitchClass(name)!]!, pitchClass(name)!);
  return PLAIN[name] ?? name;
}
const PLAIN_LETTER = [0, 0, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6] as const;

/** One numeral over a tonic as a chord. @throws RangeError for one that is none */
export function chordOf(numeral: string, tonic: string): Chord {
  const [upper = '', under] = numeral.split('/');
  const [symbol = '', bass = null] = Progression.fromRomanNumerals(
    tonic,
    under === undefined ? [upper] : [upper, under],
  );
  const chord = parseChord(symbol.replace(/^([A-G])(##|bb)/, (name) => plain(name)));
  if (!chord) throw new RangeError(`"${numeral}" is no numeral of a chord, such as IIm7 or V/VII`);
  return { ...chord, root: plain(chord.root), bass: bass === null ? null : plain(bass) };
}

function spans(form: string, tonic: string, bar: number): ChordSpan[] {
  return form.split('|').flatMap((cell, i) => {
    const numerals = cell.trim().split(/\s+/);
    const each = bar / numerals.length;
    return numerals.map((numeral, k) => ({
      startTicks: ticks(i * bar + k * each),
      durationTicks: ticks(each),
      symbol: chordSymbol(chordOf(numeral, tonic)),
    }));
  });
}

/** What of a form's parts has shapes in a key (slash chords and ninths have in some keys only). */
const playableIn = (form: ChartForm, tonic: string): string[][] =>
  form.parts.map((alternatives) =>
    alternatives.filter((bars) =>
      bars.split(/[\s|]+/).every((numeral) => isPlayable(chordOf(numeral, tonic))),
    ),
  );

/** A key of the level in which every part of the form can be played, and one alternative of each. */
function drawForm(
  form: ChartForm,
  tonics: readonly string[],
  random: Random,
): { readonly tonic: string; readonly numerals: string } {
  const able = tonics
    .map((tonic) => ({ tonic, parts: playableIn(form, tonic) }))
    .filter(({ parts }) => parts.every((alternatives) => alternatives.length > 0));
  const { tonic, parts } = random.pick(able);
  return { tonic, numerals: parts.map((alternatives) => random.pick(alternatives)).join(' | ') };
}

/**
 * A chart of one of our levels: every chord has a shape on the neck, the same seed gives the same chart.
 * @throws RangeError naming the value and what is allowed
 */
export function makeChart({ level, seed, tempoBpm, style }: ChartRequest): Chart {
  const rung = CHART_LEVELS[level - 1];
  if (!rung || !Number.isInteger(level)) throw new RangeError(`level must be 1…10, got ${level}`);
  if (!Number.isInteger(seed) || seed < 0 || seed > 0xffffffff)
    throw new RangeError(`seed must be a whole number 0…4294967295, got ${seed}`);
  if (tempoBpm !== undefined && !(tempoBpm >= 30 && tempoBpm <= 240))
    throw new RangeError(`tempo must be 30…240 crotchets a minute, got ${tempoBpm}`);
  const random = makeRandom(seed, STREAM + level);
  const form = random.pick(rung.forms);
  const metre = METRES[random.pick(form.metres)];
  const drawnStyle = random.pick(form.styles);
  const [low, high] = rung.tempo;
  const drawnTempo = low + TEMPO_STEP * random.below((high - low) / TEMPO_STEP + 1);
  const { tonic, numerals } = drawForm(form, rung.tonics, random);
  const used = style ?? drawnStyle;
  return {
    key: { tonic, scale: form.scale },
    metre,
    bars: numerals.split('|').length,
    chords: merged(spans(numerals, tonic, barTicks(metre))),
    style: used,
    tempoBpm: bpm(tempoBpm ?? drawnTempo),
    swing: used === 'shuffle' ? TRIPLET_SWING : 0.5,
  };
}

/** A chord that stays is one span. */
function merged(chords: readonly ChordSpan[]): ChordSpan[] {
  const out: ChordSpan[] = [];
  for (const span of chords) {
    const last = out.at(-1);
    if (last?.symbol === span.symbol)
      out[out.length - 1] = { ...last, durationTicks: ticks(last.durationTicks + span.durationTicks) };
    else out.push(span);
  }
  return out;
}
