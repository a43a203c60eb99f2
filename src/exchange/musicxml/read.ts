import type { Metre, PracticeTest } from '../../music/score.ts';
import { TICKS_PER_QUARTER } from '../../music/units.ts';
import { ExchangeError } from '../error.ts';
import { buildTest, MOST_BARS, type ImportOptions } from '../phrase/build.ts';
import type { ImportedNote, ImportedPhrase } from '../phrase/imported.ts';
import { barTicksOf, metreOf } from '../phrase/metre.ts';
import { modeNamed } from '../phrase/modes.ts';
import { midiOf } from '../phrase/spell.ts';
import { child, childrenOf, find, numberIn, readTree, type Node } from './tree.ts';

/** What the reader knows while it walks through a part. */
interface Reading {
  readonly notes: ImportedNote[];
  divisions: number;
  /** Semitones from written to sounding. */
  transpose: number;
  metre: Metre | null;
  key: ImportedPhrase['key'];
  tempoBpm: number | null;
  swing: number;
  /** Staves that only repeat the music as TAB. */
  readonly tabStaves: Set<string>;
  voice: string | null;
  /** A tie that waits for its second note. */
  tiedFrom: boolean;
}

/** Note values down to demisemiquavers and semiquaver triplets fall on this grid. */
const GRID = 20;

function readTime(time: Node): Metre {
  const beats = childrenOf(time, 'beats');
  if (beats.length !== 1) throw new ExchangeError('time-composite');
  const groups = beats[0]!.text.split('+').map(Number);
  const sum = groups.reduce((a, b) => a + b, 0);
  return metreOf(sum, numberIn(time, 'beat-type'), groups.length > 1 ? groups : undefined);
}

function readAttributes(node: Node, r: Reading): void {
  r.divisions = numberIn(node, 'divisions', r.divisions);
  const key = child(node, 'key');
  if (key) {
    const fifths = numberIn(key, 'fifths', 0);
    if (!(Number.isInteger(fifths) && Math.abs(fifths) <= 7))
      throw new ExchangeError('key-beyond', { fifths });
    if (r.key && r.notes.length > 0 && r.key.fifths !== fifths) throw new ExchangeError('key-changes');
    r.key = { fifths, mode: modeNamed(child(key, 'mode')?.text ?? '') };
  }
  const time = child(node, 'time');
  if (time) {
    const metre = readTime(time);
    if (r.metre && (r.metre.beats !== metre.beats || r.metre.beatUnit !== metre.beatUnit))
      throw new ExchangeError('time-changes');
    r.metre ??= metre;
  }
  const transpose = child(node, 'transpose');
  if (transpose)
    r.transpose = numberIn(transpose, 'chromatic', 0) + 12 * numberIn(transpose, 'octave-change', 0);
  for (const clef of childrenOf(node, 'clef'))
    if (child(clef, 'sign')?.text === 'TAB') r.tabStaves.add(clef.attributes['number'] ?? '1');
}

/** A length in our ticks. */
function ticksIn(node: Node, r: Reading, bar: number): number {
  const ticks = (numberIn(node, 'duration') * TICKS_PER_QUARTER) / r.divisions;
  if (!(ticks > 0) || Math.abs(ticks - Math.round(ticks / GRID) * GRID) > 0.5)
    throw new ExchangeError('note-value', { bar: bar + 1 });
  return Math.round(ticks / GRID) * GRID;
}

function pitchOf(note: Node, r: Reading, bar: number): { midi: number; spelling: string | null } {
  const pitch = child(note, 'pitch');
  if (!pitch) throw new ExchangeError('no-pitch', { bar: bar + 1 });
  const step = child(pitch, 'step')?.text ?? '';
  const alter = numberIn(pitch, 'alter', 0);
  const octave = numberIn(pitch, 'octave');
  if (!/^[A-G]$/.test(step) || !Number.isInteger(octave))
    throw new ExchangeError('pitch-unread', { bar: bar + 1 });
  if (!Number.isInteger(alter) || Math.abs(alter) > 2)
    throw new ExchangeError('quarter-tone', { bar: bar + 1 });
  const name = step + (alter > 0 ? '#'.repeat(alter) : 'b'.repeat(-alter));
  const midi = midiOf(name, octave) + r.transpose;
  // An octave's transposition keeps the name; any other is spelled anew from the key.
  return { midi, spelling: r.transpose % 12 === 0 ? `${name}${octave + r.transpose / 12}` : null };
}

/** Reads one note at `at`; gives its end. */
function readNote(note: Node, at: number, r: Reading, bar: number): number {
  if (child(note, 'cue')) return at;
  if (child(note, 'grace')) throw new ExchangeError('grace-note', { bar: bar + 1 });
  const end = at + ticksIn(note, r, bar);
  const staff = child(note, 'staff')?.text ?? '1';
  if (r.tabStaves.has(staff) && staff !== '1') return child(note, 'chord') ? at : end;
  if (child(note, 'rest')) return end;
  const voice = `${child(note, 'voice')?.text ?? '1'}/${staff}`;
  r.voice ??= voice;
  if (child(note, 'chord') || voice !== r.voice)
    throw new ExchangeError(child(note, 'chord') ? 'two-notes' : 'second-voice', { bar: bar + 1 });
  const { midi, spelling } = pitchOf(note, r, bar);
  const ties = childrenOf(note, 'tie').map((tie) => tie.attributes['type']);
  const last = r.notes[r.notes.length - 1];
  const continues =
    ties.includes('stop') && r.tiedFrom && last?.midi === midi && last.startTicks + last.durationTicks === at;
  if (continues) r.notes[r.notes.length - 1] = { ...last, durationTicks: end - last.startTicks };
  else r.notes.push({ startTicks: at, durationTicks: end - at, midi, spelling });
  r.tiedFrom = ties.includes('start');
  return end;
}

/** Share of the beat that the first of two quavers takes; straight where the swing is of another value or kind. */
function swingIn(swing: Node): number {
  const [first, second] = [numberIn(swing, 'first', 1), numberIn(swing, 'second', 1)];
  const quavers = (child(swing, 'swing-type')?.text ?? 'eighth') === 'eighth';
  const share = first / (first + second);
  return quavers && share >= 0.5 && share <= 0.75 ? share : 0.5;
}

function readTempo(node: Node, r: Reading): void {
  const sound = node.name === 'sound' ? node : find(node, 'sound');
  const swing = sound && child(sound, 'swing');
  if (swing) r.swing = swingIn(swing);
  const told = sound?.attributes['tempo'];
  if (told === undefined) return;
  const tempo = Number(told);
  if (!Number.isFinite(tempo)) throw new ExchangeError('tempo-unread');
  if (r.tempoBpm !== null && r.notes.length > 0 && r.tempoBpm !== tempo)
    throw new ExchangeError('tempo-changes');
  r.tempoBpm = tempo;
}

/** Reads one bar that starts at `from`; gives how far its music reaches. */
function readMeasure(measure: Node, from: number, r: Reading, bar: number): number {
  let at = from;
  let reached = from;
  for (const node of measure.children) {
    // A chord's further notes start with its first.
    if (node.name === 'note') at = readNote(node, at, r, bar);
    else if (node.name === 'backup') at -= ticksIn(node, r, bar);
    else if (node.name === 'forward') at += ticksIn(node, r, bar);
    else if (node.name === 'attributes') readAttributes(node, r);
    else if (node.name === 'direction' || node.name === 'sound') readTempo(node, r);
    else if (node.name === 'barline' && child(node, 'repeat')) throw new ExchangeError('repeats');
    reached = Math.max(reached, at);
  }
  return reached;
}

function readPart(part: Node): ImportedPhrase {
  const r: Reading = {
    notes: [],
    divisions: 1,
    transpose: 0,
    metre: null,
    key: null,
    tempoBpm: null,
    swing: 0.5,
    tabStaves: new Set(),
    voice: null,
    tiedFrom: false,
  };
  const measures = childrenOf(part, 'measure');
  if (measures.length > MOST_BARS * 4)
    throw new ExchangeError('music-long', { bars: measures.length, most: MOST_BARS });
  measures.forEach((measure, bar) => {
    const attributes = child(measure, 'attributes');
    if (attributes) readAttributes(attributes, r);
    const metre = (r.metre ??= metreOf(4, 4));
    const length = barTicksOf(metre);
    const before = r.notes.length;
    const reached = readMeasure(measure, bar * length, r, bar) - bar * length;
    if (reached > length) throw new ExchangeError('bar-long', { bar: bar + 1 });
    // An upbeat bar is short: its notes stand at the end of a whole one.
    if (bar === 0 && reached < length && r.notes.length > before)
      r.notes.forEach((note, i) => {
        r.notes[i] = { ...note, startTicks: note.startTicks + length - reached };
      });
  });
  return {
    metre: r.metre ?? metreOf(4, 4),
    notes: r.notes,
    key: r.key,
    tempoBpm: r.tempoBpm,
    swing: r.swing,
  };
}

/**
 * A teacher's own phrase from a MusicXML file (score-partwise, plain or compressed): one part, one voice; a
 * TAB staff under it is taken for what it is. Tied notes become one, an upbeat stands at the end of bar 1.
 *
 * @throws ExchangeError, one sentence, for whatever is no such file or no such phrase.
 */
export function testFromMusicXml(bytes: Uint8Array, options: ImportOptions): PracticeTest {
  const root = readTree(bytes);
  if (root.name === 'score-timewise') throw new ExchangeError('xml-timewise');
  if (root.name !== 'score-partwise') throw new ExchangeError('xml-foreign');
  const parts = childrenOf(root, 'part').filter((part) => find(part, 'pitch') || find(part, 'unpitched'));
  if (parts.length > 1) throw new ExchangeError('xml-parts', { parts: parts.length });
  const [part] = parts;
  if (!part) throw new ExchangeError('no-note');
  return buildTest(readPart(part), options);
}
