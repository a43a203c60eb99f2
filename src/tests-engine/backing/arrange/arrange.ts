import { isPitched } from '../../../music/kinds.ts';
import type { ChordSpan, Cue, DrumPiece, PitchedVoice, PracticeTest } from '../../../music/score.ts';
import { type Chord, parseChord } from '../../../music/chords/index.ts';
import { midi, sec, ticks } from '../../../music/units.ts';
import { barTicks } from '../../../music/metre.ts';
import { performedSec } from '../../../music/time.ts';
import { cellNames, readRow, type Hit } from '../bar.ts';
import { onsetsInBar, withoutFigure } from '../figure.ts';
import { completedScale } from '../harmony/palette.ts';
import { keyClasses } from '../scale.ts';
import { CELL_STEPS } from '../style.ts';
import { atOrAbove } from '../voicing.ts';
import { bassNote, bassRoots, leadingBass, lowestClass } from './bass.ts';
import type { Groove, GrooveCell } from './groove.ts';
import { grooveNamed } from './grooves.ts';
import { type Voicing, leadVoices } from './voices.ts';

/** Strokes as velocities. */
const STROKE: Readonly<Record<string, number>> = { X: 0.85, x: 0.68, o: 0.4 };
const SOFT_BASS = 0.6;
const BASS = 0.75;
/** Shares of a stroke's velocity: set by what bench:material measures of the phrase over its backing. */
const SHARE = { chords: 0.62, upper: 0.5, bass: 0.7, drums: 0.75 };
/** Notes are let go a little early, so that a repeated note is heard as two. */
const SOUNDING_SHARE = 0.92;
/** E3: chords lie E3–B4, over the guitar's low strings. */
const CHORD_FLOOR = 52;
/** C4: over a bass guitar's phrase the chords lie higher … */
const CHORD_FLOOR_FOR_BASS = 58;
/** … and the root, which the chords carry there, from G2. */
const KEY_ROOT_FLOOR = 43;
/** E6: higher the keys are not recorded, nor stretched to. */
const KEYS_HIGHEST = 88;
const STEP_TICKS = 120;
/** Held chords under struck ones are softer than those. */
const ORGAN = 0.6;

/** A chord with everything the parts need to know of it. */
interface Standing {
  readonly chord: Chord;
  readonly from: number;
  readonly to: number;
  readonly voicing: Voicing;
  readonly bassRoot: number;
}

type PartId = DrumPiece | 'bass' | 'chords' | 'upper';
interface Part {
  readonly id: PartId;
  readonly hits: readonly Hit[];
}

/** The parts of one bar: every metre's cells take turns through their variants. */
function partsOf(groove: Groove, test: PracticeTest, bar: number): readonly Part[] {
  let fromTicks = 0;
  const cells = cellNames(test.phrase.metre).map((name) => {
    const variants = groove.cells[name];
    const placed = { cell: variants[bar % variants.length]!, fromTicks };
    fromTicks += CELL_STEPS[name] * STEP_TICKS;
    return placed;
  });
  const pieces = [...new Set(cells.flatMap(({ cell }) => Object.keys(cell.drums) as DrumPiece[]))];
  const part = (id: PartId, row: (cell: GrooveCell) => string | undefined): Part => ({
    id,
    hits: cells.flatMap(({ cell, fromTicks: from }) => readRow(row(cell) ?? '', from)),
  });
  return [
    ...pieces.map((piece) => part(piece, (cell) => cell.drums[piece])),
    part('bass', (cell) => cell.bass),
    part('chords', (cell) => cell.chords),
    part('upper', (cell) => cell.upper),
  ];
}

/** The chords over the whole phrase: where it is longer than they are, they begin again. */
function spansOf({ backing, phrase }: PracticeTest): readonly ChordSpan[] {
  const { chords } = backing!;
  const last = chords.at(-1);
  if (!last) throw new RangeError('a backing without chords cannot be played; give it one at least');
  const round = last.startTicks + last.durationTicks;
  const end = barTicks(phrase.metre) * phrase.bars;
  const rounds = Array.from({ length: Math.ceil(end / round) }, (_, k) => k * round);
  return rounds
    .flatMap((from) => chords.map((c) => ({ ...c, startTicks: ticks(from + c.startTicks) })))
    .filter(({ startTicks }) => startTicks < end);
}

function standings(test: PracticeTest): readonly Standing[] {
  const spans = spansOf(test);
  const chords = spans.map(({ symbol }) => {
    const chord = parseChord(symbol);
    if (!chord) throw new RangeError(`"${symbol}" is no chord; write it as Am7, F#dim or C/E`);
    return chord;
  });
  const forBass = test.instrument === 'bass';
  const roots = forBass ? chords.map((c) => atOrAbove(lowestClass(c), KEY_ROOT_FLOOR)) : bassRoots(chords);
  const voicings = leadVoices(chords, forBass ? CHORD_FLOOR_FOR_BASS : CHORD_FLOOR, roots);
  return spans.map(({ startTicks, durationTicks }, i) => ({
    chord: chords[i]!,
    from: startTicks,
    to: startTicks + durationTicks,
    voicing: voicings[i]!,
    bassRoot: roots[i]!,
  }));
}

/** A stroke where each chord begins in this bar, held until the chord ends or the bar does. */
function held(standing: readonly Standing[], bar: number, length: number, sign: string): readonly Hit[] {
  const [from, to] = [bar * length, (bar + 1) * length];
  return standing
    .filter((s) => s.from < to && s.to > from)
    .map((s) => {
      const start = Math.max(s.from, from);
      return { atTicks: start - from, lengthTicks: Math.min(s.to, to) - start, sign };
    });
}

/** Puts a stroke where a chord begins and the row is silent, so that the change is heard when it comes. */
function withChanges(
  hits: readonly Hit[],
  standing: readonly Standing[],
  bar: number,
  length: number,
  sign: string,
): readonly Hit[] {
  const changes = standing.map((s) => s.from - bar * length).filter((at) => at > 0 && at < length);
  let left = hits;
  for (const at of changes) {
    if (left.some((h) => h.atTicks === at)) continue;
    const before = left.findLast((h) => h.atTicks < at);
    const until = left.find((h) => h.atTicks > at)?.atTicks ?? length;
    left = [
      ...left.filter((h) => h.atTicks < at && h !== before),
      ...(before ? [{ ...before, lengthTicks: Math.min(before.lengthTicks, at - before.atTicks) }] : []),
      { atTicks: at, lengthTicks: Math.min(until - at, 2 * STEP_TICKS), sign },
      ...left.filter((h) => h.atTicks > at),
    ];
  }
  return left;
}

/** Whether every chord of a bar is struck in it. */
const everyChord = (
  standing: readonly Standing[],
  hits: readonly Hit[],
  bar: number,
  length: number,
): boolean =>
  standing
    .filter((s) => s.from < (bar + 1) * length && s.to > bar * length)
    .every((s) =>
      hits.some(({ atTicks }) => bar * length + atTicks >= s.from && bar * length + atTicks < s.to),
    );

/**
 * The accompaniment of a test that has chords, from its first bar line to its last: drums, bass and chords of
 * its style; sorted by time.
 *
 * - The bass takes the root where a chord begins, moves through the chord after it and, where the style walks,
 *   leads into the next by step. A bass test has no bass line; the chords carry the root.
 * - The chords' voices lead ({@link leadVoices}).
 * - In a rhythm test only the drums move (chords and bass are held: strokes in the low string's own register
 *   would be taken for the figure), and no part strikes the figure asked for or its rival.
 *
 * @param fromSec when the phrase's first bar line falls. @param parts `drums`: the drums alone.
 * @throws RangeError for a chord symbol or style that is none.
 */
export function arrange(test: PracticeTest, fromSec: number, parts: 'all' | 'drums'): readonly Cue[] {
  const groove = grooveNamed(test.style);
  const length = barTicks(test.phrase.metre);
  const standing = parts === 'all' ? standings(test) : [];
  const classes = keyClasses(test.key);
  const scale = completedScale(test.key, classes);
  const inScale = (note: number): boolean => scale.has((((note - classes.tonic) % 12) + 12) % 12);
  const rhythm = !isPitched(test.kind);
  // Tests of arranger 2 sound as they did.
  const { arranger } = test.backing!;
  const under = arranger > 2 && !rhythm && test.instrument === 'guitar' ? groove.underGuitar : 1;
  const comps = rhythm && arranger > 3 && groove.compsOverRhythm === true;
  const asked = rhythm ? [test.phrase, ...(test.question ? [test.question.other] : [])] : [];
  const at = (written: number): number => fromSec + performedSec(written, test);
  const cues: Cue[] = [];
  const sound = (voice: PitchedVoice, note: number, start: number, end: number, velocity: number): void => {
    cues.push({
      type: 'note',
      voice,
      role: 'backing',
      atSec: sec(at(start)),
      durationSec: sec((at(end) - at(start)) * SOUNDING_SHARE),
      midi: midi(note),
      velocity: velocity * groove.force * under,
    });
  };
  let lastBass = standing[0]?.bassRoot ?? 0;
  for (let bar = 0; bar < test.phrase.bars; bar++) {
    const figures = asked.map((phrase) => onsetsInBar(phrase, bar));
    for (const { id, hits: written } of partsOf(groove, test, bar)) {
      const pitched = id === 'bass' || id === 'chords' || id === 'upper';
      if (pitched && (parts === 'drums' || (rhythm && id === 'upper'))) continue;
      const sign = id === 'bass' ? 'R' : 'x';
      const own = !pitched
        ? written
        : rhythm && !(comps && id === 'chords')
          ? held(standing, bar, length, sign)
          : id === 'upper'
            ? written
            : withChanges(written, standing, bar, length, sign);
      const left = withoutFigure(own, figures, test.phrase);
      // Each chord is heard, or all of them are held.
      const bare = comps && id === 'chords' && !everyChord(standing, left, bar, length);
      const hits = bare ? withoutFigure(held(standing, bar, length, sign), figures, test.phrase) : left;
      if (comps && !bare && id === 'chords' && test.instrument === 'bass')
        for (const { atTicks, lengthTicks } of held(standing, bar, length, sign)) {
          const start = bar * length + atTicks;
          const { bassRoot, voicing } = standing.findLast((s) => s.from <= start)!;
          const velocity = STROKE['x']! * SHARE.chords * groove.chordForce;
          // An organ under the strokes: the root, which no bass plays here, is not left alone.
          for (const note of [bassRoot, ...voicing])
            sound('keys', note, start, start + lengthTicks, velocity * ORGAN);
        }
      hits.forEach((hit, k) => {
        const start = bar * length + hit.atTicks;
        if (!pitched) {
          const velocity = STROKE[hit.sign]! * SHARE.drums * groove.force;
          cues.push({ type: 'drum', piece: id, atSec: sec(at(start)), velocity });
          return;
        }
        const index = standing.findLastIndex((s) => s.from <= start);
        const here = standing[index]!;
        const next = standing[index + 1];
        const end = Math.min(start + hit.lengthTicks, here.to);
        if (id === 'upper') {
          const tone = here.voicing[Number(hit.sign) - 1]!;
          const note = tone + 12 > KEYS_HIGHEST ? tone : tone + 12;
          sound(groove.voice, note, start, end, STROKE['x']! * SHARE.upper);
        } else if (id === 'chords') {
          const velocity = STROKE[hit.sign]! * SHARE.chords * groove.chordForce;
          if (test.instrument === 'bass' && (!comps || bare))
            sound('keys', here.bassRoot, start, end, velocity);
          for (const note of here.voicing) sound(groove.voice, note, start, end, velocity);
        } else if (test.instrument === 'guitar') {
          const first = start === here.from || (k === 0 && bar === 0);
          const upcoming = hits[k + 1] ? bar * length + hits[k + 1]!.atTicks : (bar + 1) * length;
          const leads = groove.bassLeads && next && !first && upcoming >= here.to;
          // A root already reached by anticipation is not struck as another note.
          const note = first
            ? here.bassRoot
            : leads
              ? leadingBass(lastBass, next.bassRoot, inScale)
              : bassNote(
                  hit.sign,
                  here.chord,
                  here.bassRoot,
                  next && upcoming >= here.to ? next.bassRoot : here.bassRoot,
                );
          lastBass = note;
          sound('bass', note, start, end, (hit.sign === 'r' ? SOFT_BASS : BASS) * SHARE.bass);
        }
      });
    }
  }
  return cues.sort((a, b) => a.atSec - b.atSec);
}
