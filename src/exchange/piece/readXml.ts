import type { PieceBar, TempoMark } from '../../music/piece.ts';
import type { Metre } from '../../music/score.ts';
import { TICKS_PER_QUARTER } from '../../music/units.ts';
import { ExchangeError } from '../error.ts';
import type { ImportedNote } from '../phrase/imported.ts';
import { barTicksOf, metreOf } from '../phrase/metre.ts';
import { midiOf } from '../phrase/spell.ts';
import { child, childrenOf, find, numberIn, readTree, type Node } from '../musicxml/tree.ts';
import { buildPiece, type ImportedPiece, type PieceOptions } from './build.ts';
import { MOST_PIECE_BARS, unfold, type BarRoad } from './unfold.ts';

/** One written bar, times from its start. */
interface WrittenBar {
  readonly notes: readonly (ImportedNote & {
    readonly voice: string;
    readonly tiedTo: boolean;
    readonly tiedFrom: boolean;
  })[];
  readonly tempi: readonly TempoMark[];
  readonly road: BarRoad;
  readonly ticks: number;
  readonly number: number;
}

interface Reading {
  divisions: number;
  transpose: number;
  metre: Metre | null;
  fifths: number | null;
  minor: boolean;
  swing: number;
  readonly tabStaves: Set<string>;
  ending: readonly number[] | null;
  number: number;
}

const BEAT_UNITS: Readonly<Record<string, number>> = {
  whole: 4,
  half: 2,
  quarter: 1,
  eighth: 0.5,
  '16th': 0.25,
};

function readAttributes(node: Node, r: Reading): void {
  r.divisions = numberIn(node, 'divisions', r.divisions);
  const key = child(node, 'key');
  if (key && r.fifths === null) {
    r.fifths = Math.max(-7, Math.min(7, Math.round(numberIn(key, 'fifths', 0))));
    r.minor = child(key, 'mode')?.text === 'minor';
  }
  const time = child(node, 'time');
  const beats = time && child(time, 'beats');
  if (time && beats) {
    const groups = beats.text.split('+').map(Number);
    const sum = groups.reduce((a, b) => a + b, 0);
    r.metre = metreOf(sum, numberIn(time, 'beat-type'), groups.length > 1 ? groups : undefined);
  }
  const transpose = child(node, 'transpose');
  if (transpose)
    r.transpose = numberIn(transpose, 'chromatic', 0) + 12 * numberIn(transpose, 'octave-change', 0);
  for (const clef of childrenOf(node, 'clef'))
    if (child(clef, 'sign')?.text === 'TAB') r.tabStaves.add(clef.attributes['number'] ?? '1');
}

/** Crotchets a minute that a direction asks for; null where it does not. */
function tempoIn(node: Node): number | null {
  const sound = node.name === 'sound' ? node : find(node, 'sound');
  const told = Number(sound?.attributes['tempo'] ?? NaN);
  if (Number.isFinite(told) && told > 0) return told;
  const metronome = find(node, 'metronome');
  if (!metronome) return null;
  const unit = BEAT_UNITS[child(metronome, 'beat-unit')?.text ?? ''];
  const perMinute = Number((child(metronome, 'per-minute')?.text ?? '').replace(/[^\d.]/g, ''));
  if (unit === undefined || !(perMinute > 0)) return null;
  return perMinute * unit * (child(metronome, 'beat-unit-dot') ? 1.5 : 1);
}

/** Reads one written bar. @throws ExchangeError for a pitch or length that cannot be read */
function readBar(measure: Node, r: Reading): WrittenBar {
  const length = (node: Node): number => (numberIn(node, 'duration') * TICKS_PER_QUARTER) / r.divisions;
  const notes: WrittenBar['notes'][number][] = [];
  const tempi: TempoMark[] = [];
  const road = {
    forward: false,
    backward: 0,
    segno: false,
    coda: false,
    toCoda: false,
    fine: false,
    daCapo: false,
    dalSegno: false,
  };
  let at = 0;
  let reached = 0;
  let chordAt = 0;
  let endsEnding = false;
  for (const node of measure.children) {
    if (node.name === 'attributes') readAttributes(node, r);
    else if (node.name === 'note') {
      // Ornaments and cues are not held against anyone.
      if (child(node, 'cue') || child(node, 'grace')) continue;
      const lasts = length(node);
      const inChord = child(node, 'chord') !== undefined;
      const start = inChord ? chordAt : at;
      if (!inChord) {
        chordAt = at;
        at += lasts;
        // Rests count too: a bar that ends with one is as long as any other.
        reached = Math.max(reached, at);
      }
      const staff = child(node, 'staff')?.text ?? '1';
      const pitch = child(node, 'pitch');
      if (!pitch || (r.tabStaves.has(staff) && staff !== '1')) continue;
      const step = child(pitch, 'step')?.text ?? '';
      const alter = Math.round(numberIn(pitch, 'alter', 0));
      const octave = numberIn(pitch, 'octave');
      if (!/^[A-G]$/.test(step) || !Number.isInteger(octave) || Math.abs(alter) > 2)
        throw new ExchangeError('pitch-unread', { bar: r.number });
      const name = step + (alter > 0 ? '#'.repeat(alter) : 'b'.repeat(-alter));
      const ties = childrenOf(node, 'tie').map((tie) => tie.attributes['type']);
      notes.push({
        startTicks: Math.round(start),
        durationTicks: Math.round(start + lasts) - Math.round(start),
        midi: midiOf(name, octave) + r.transpose,
        spelling: r.transpose % 12 === 0 ? `${name}${octave + r.transpose / 12}` : null,
        voice: `${child(node, 'voice')?.text ?? '1'}/${staff}`,
        tiedTo: ties.includes('start'),
        tiedFrom: ties.includes('stop'),
      });
    } else if (node.name === 'backup') at = Math.max(0, at - length(node));
    else if (node.name === 'forward') at += length(node);
    else if (node.name === 'direction' || node.name === 'sound') {
      const tempo = tempoIn(node);
      if (tempo !== null) tempi.push({ atTicks: Math.round(at), bpm: tempo });
      const sound = node.name === 'sound' ? node : find(node, 'sound');
      const says = sound?.attributes ?? {};
      if ('segno' in says || find(node, 'segno')) road.segno = true;
      if ('tocoda' in says) road.toCoda = true;
      else if ('coda' in says || find(node, 'coda')) road.coda = true;
      if ('fine' in says) road.fine = true;
      if (says['dacapo'] === 'yes') road.daCapo = true;
      if ('dalsegno' in says) road.dalSegno = true;
      const swing = sound && child(sound, 'swing');
      if (swing && !child(swing, 'straight')) {
        const [first, second] = [numberIn(swing, 'first', 1), numberIn(swing, 'second', 1)];
        const share = first / (first + second);
        if (share >= 0.5 && share <= 0.75) r.swing = share;
      }
    } else if (node.name === 'barline') {
      const repeat = child(node, 'repeat');
      if (repeat?.attributes['direction'] === 'forward') road.forward = true;
      if (repeat?.attributes['direction'] === 'backward')
        road.backward = Math.max(2, Math.min(16, Number(repeat.attributes['times'] ?? 2) || 2));
      const ending = child(node, 'ending');
      if (ending?.attributes['type'] === 'start') {
        const numbers = (ending.attributes['number'] ?? '1')
          .split(/[^\d]+/)
          .filter(Boolean)
          .map(Number);
        r.ending = numbers.length > 0 ? numbers : [1];
      } else if (ending) endsEnding = true;
    }
    reached = Math.max(reached, at);
  }
  const inEnding = r.ending;
  if (endsEnding) r.ending = null;
  return { notes, tempi, road: { ...road, ending: inEnding }, ticks: Math.round(reached), number: r.number };
}

/** A part's written bars in the order of playing, as one line of time. */
function readPart(part: Node): {
  bars: PieceBar[];
  notes: (ImportedNote & { voice: string })[];
  tempi: TempoMark[];
  r: Reading;
} {
  const r: Reading = {
    divisions: 1,
    transpose: 0,
    metre: null,
    fifths: null,
    minor: false,
    swing: 0.5,
    tabStaves: new Set(),
    ending: null,
    number: 1,
  };
  const measures = childrenOf(part, 'measure');
  const written = measures.map((measure, k) => {
    r.number = Number.parseInt(measure.attributes['number'] ?? '', 10);
    if (!Number.isInteger(r.number) || r.number < 0) r.number = k + 1;
    const bar = readBar(measure, r);
    const full = barTicksOf((r.metre ??= metreOf(4, 4)));
    const pickUp = k === 0 && bar.ticks > 0 && bar.ticks < full;
    return {
      ...bar,
      // A bar of no length is one of rests that a program left away.
      ticks: bar.ticks === 0 ? full : bar.ticks,
      number: pickUp ? 0 : bar.number,
    };
  });
  const order = unfold(written.map(({ road }) => road));
  if (order === null || order.length > MOST_PIECE_BARS)
    throw new ExchangeError('piece-repeats-long', { most: MOST_PIECE_BARS });
  const bars: PieceBar[] = [];
  const notes: (ImportedNote & { voice: string })[] = [];
  const tempi: TempoMark[] = [];
  const open = new Map<string, number>();
  let at = 0;
  for (const k of order) {
    const bar = written[k]!;
    bars.push({ startTicks: at, durationTicks: bar.ticks, printed: bar.number });
    for (const mark of bar.tempi) {
      const here = at + mark.atTicks;
      while (tempi.length > 0 && tempi.at(-1)!.atTicks >= here) tempi.pop();
      if (tempi.at(-1)?.bpm !== mark.bpm) tempi.push({ atTicks: here, bpm: mark.bpm });
    }
    for (const { tiedFrom, tiedTo, ...note } of bar.notes) {
      const key = `${note.voice}:${note.midi}`;
      const before = open.get(key);
      const start = at + note.startTicks;
      const held = before === undefined ? undefined : notes[before];
      if (tiedFrom && held && held.startTicks + held.durationTicks === start)
        notes[before!] = { ...held, durationTicks: start + note.durationTicks - held.startTicks };
      else {
        notes.push({ ...note, startTicks: start });
        open.delete(key);
      }
      if (tiedTo) open.set(key, before !== undefined && tiedFrom ? before : notes.length - 1);
      else open.delete(key);
    }
    at += bar.ticks;
  }
  if (tempi.length > 0 && tempi[0]!.atTicks > 0) tempi.unshift({ atTicks: 0, bpm: tempi[0]!.bpm });
  return { bars, notes, tempi, r };
}

/** Do two voices ever sound at once? The first bar, from 0, in which they do; −1: they take turns. */
function togetherIn(notes: readonly (ImportedNote & { voice: string })[], bars: readonly PieceBar[]): number {
  const sorted = [...notes].sort((a, b) => a.startTicks - b.startTicks);
  for (let i = 0; i < sorted.length; i++)
    for (let k = i + 1; k < sorted.length; k++) {
      const [a, b] = [sorted[i]!, sorted[k]!];
      if (b.startTicks >= a.startTicks + a.durationTicks) break;
      if (a.voice !== b.voice) return bars.findLastIndex(({ startTicks }) => startTicks <= b.startTicks);
    }
  return -1;
}

/**
 * A piece's part from a MusicXML file (score-partwise, plain or compressed): repeats, endings, da capo and coda
 * written out, a pick-up as a short bar 0, tempi where they change, chords as notes that begin together. Of several parts or voices
 * that sound at once one is chosen by the options.
 *
 * @throws ExchangeError, one sentence, for whatever is no such file or no such part
 */
export function pieceFromMusicXml(bytes: Uint8Array, options: PieceOptions): ImportedPiece {
  const root = readTree(bytes);
  if (root.name !== 'score-partwise')
    throw new ExchangeError(root.name === 'score-timewise' ? 'xml-timewise' : 'xml-foreign');
  const list = find(root, 'part-list');
  const named = new Map(
    (list ? childrenOf(list, 'score-part') : []).map((p) => [
      p.attributes['id'],
      child(p, 'part-name')?.text,
    ]),
  );
  const parts = childrenOf(root, 'part').filter((part) => find(part, 'pitch'));
  const names = parts.map((part, k) => named.get(part.attributes['id']) || `Part ${k + 1}`);
  if (parts.length === 0) throw new ExchangeError('piece-no-note');
  const chosen = parts[options.part ?? 0];
  if (!chosen) throw new ExchangeError('piece-choose', { parts: parts.length });
  const { bars, notes, tempi, r } = readPart(chosen);
  const voices = [...new Set(notes.map(({ voice }) => voice))];
  const together = voices.length > 1 && options.voice === undefined ? togetherIn(notes, bars) : -1;
  if (together >= 0) throw new TwoVoices(bars[together]!.printed, voices.length);
  const kept =
    options.voice === undefined ? notes : notes.filter(({ voice }) => voice === voices[options.voice!]);
  return buildPiece(
    {
      title: find(root, 'work-title')?.text || find(root, 'movement-title')?.text || null,
      metre: r.metre!,
      fifths: r.fifths,
      minor: r.minor,
      bars,
      notes: kept.map(({ voice: _, ...note }) => note),
      tempi,
      swing: r.swing,
      parts: names,
      voices: voices.length,
    },
    options,
  );
}

/** Two voices at once: which is to be read has to be chosen. */
export class TwoVoices extends ExchangeError {
  readonly voices: number;
  /** @param bar as it is printed */
  constructor(bar: number, voices: number) {
    super('piece-voices', { bar });
    this.voices = voices;
  }
}
