import type { Chart } from '../../music/chart.ts';
import type { ChordSpan } from '../../music/score.ts';
import { chordScale, type ChordScale } from '../material/charts/index.ts';
import { beatTicks, isStrong, placeOf } from './place.ts';
import { share, type Place, type PlacedNote, type Share } from './types.ts';

export type Belongs = 'chord' | 'scale' | 'outside';

/** How one change of chord was met. */
export interface ChangeMet {
  readonly place: Place;
  readonly symbol: string;
  /**
   * `guide`: its third or seventh was landed on; `chord`: another tone of it; `held`: a tone of both chords sounded
   * on; `other`: a note that is not of it; `none`: nothing was played within a beat.
   */
  readonly met: 'guide' | 'chord' | 'held' | 'other' | 'none';
}

export interface HarmonyFacts {
  /** Of each note, in order. */
  readonly belongs: readonly Belongs[];
  readonly inScale: Share;
  readonly inChord: Share;
  /** Of the notes on stressed beats. */
  readonly strongInChord: Share;
  readonly changes: readonly ChangeMet[];
  /** Notes of neither scale nor chord: how many went on by step into one that belongs (common practice: an approach). */
  readonly resolved: Share;
  readonly unresolvedAt: readonly Place[];
  /** Notes that are the root of their chord. */
  readonly onRoot: Share;
}

const chordAt = (chart: Chart, ticks: number): ChordSpan =>
  chart.chords.findLast(({ startTicks }) => startTicks <= ticks) ?? chart.chords[0]!;

/**
 * The chord that a note is heard against: the one that stands there, or the one to come where the note comes up to
 * half a beat before it and is held into it (an anticipation; common practice, no source).
 */
export function chordOver(chart: Chart, { ticks, endTicks }: PlacedNote): ChordSpan {
  const here = chordAt(chart, ticks);
  const end = here.startTicks + here.durationTicks;
  const anticipates = ticks > here.startTicks && end - ticks <= beatTicks(chart) / 2 && endTicks > end;
  return anticipates ? (chart.chords.find(({ startTicks }) => startTicks === end) ?? here) : here;
}

const classOf = (note: PlacedNote): number => note.note.midi % 12;
const belongsTo = ({ tones, classes }: ChordScale, pc: number): Belongs =>
  tones.has(pc) ? 'chord' : classes.has(pc) ? 'scale' : 'outside';

/** What of a line belongs, and how it meets the changes. Definitions ours where no other is said. */
export function harmonyFacts(chart: Chart, notes: readonly PlacedNote[]): HarmonyFacts {
  const scaleOf = (span: ChordSpan): ChordScale => chordScale(span.symbol, chart.key);
  const over = notes.map((note) => chordOver(chart, note));
  const belongs = notes.map((note, i) => belongsTo(scaleOf(over[i]!), classOf(note)));
  const strong = notes.map((note) => isStrong(chart, note.ticks));
  const outside = belongs.flatMap((kind, i) => (kind === 'outside' ? [i] : []));
  const unresolved = outside.filter((i) => !resolves(notes, belongs, i, beatTicks(chart)));
  const roots = notes.filter((note, i) => [...scaleOf(over[i]!).tones][0] === classOf(note)).length;
  const count = (wanted: (kind: Belongs, i: number) => boolean): number => belongs.filter(wanted).length;
  return {
    belongs,
    inScale: share(
      count((kind) => kind !== 'outside'),
      notes.length,
    ),
    inChord: share(
      count((kind) => kind === 'chord'),
      notes.length,
    ),
    strongInChord: share(
      count((kind, i) => strong[i]! && kind === 'chord'),
      strong.filter(Boolean).length,
    ),
    changes: changesMet(chart, notes),
    resolved: share(outside.length - unresolved.length, outside.length),
    unresolvedAt: unresolved.map((i) => placeOf(chart, notes[i]!.ticks)),
    onRoot: share(roots, notes.length),
  };
}

/** The next note comes within a beat, a semitone or a tone away, and belongs. */
function resolves(
  notes: readonly PlacedNote[],
  belongs: readonly Belongs[],
  i: number,
  beat: number,
): boolean {
  const [note, next] = [notes[i]!, notes[i + 1]];
  if (!next || next.ticks - note.ticks > beat) return false;
  const step = Math.abs(next.note.midi - note.note.midi);
  return step >= 1 && step <= 2 && belongs[i + 1] !== 'outside';
}

function changesMet(chart: Chart, notes: readonly PlacedNote[]): ChangeMet[] {
  const beat = beatTicks(chart);
  return chart.chords.slice(1).map((span): ChangeMet => {
    const { startTicks: at, symbol } = span;
    const scale = chordScale(symbol, chart.key);
    const place = placeOf(chart, at);
    // Struck before and still sounding, or else the first that comes within a beat.
    const sounding = notes.find((n) => n.ticks < at && n.endTicks > at + beat / 4);
    const landing = notes.find((n) => n.ticks >= at && n.ticks < at + beat) ?? null;
    const late = sounding && at - sounding.ticks <= beat / 2 ? sounding : landing;
    if (late) {
      const pc = classOf(late);
      const met = scale.guides.has(pc) ? 'guide' : scale.tones.has(pc) ? 'chord' : 'other';
      return { place, symbol, met };
    }
    if (sounding && scale.tones.has(classOf(sounding))) return { place, symbol, met: 'held' };
    return { place, symbol, met: sounding ? 'other' : 'none' };
  });
}
