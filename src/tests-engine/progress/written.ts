import type { WrittenNote } from '../../music/score.ts';
import type { ScaleEntry } from '../../music/scales.ts';
import { namedScale, pageOfMusic, type ReadingTask, type ScaleTask, type Task } from '../../music/task.ts';
import { barTicks } from '../../music/metre.ts';
import { factsOfScale } from '../tasks/scale/facts.ts';
import { isAltered, ledgerLines, signatureSize } from '../material/reading/staff.ts';
import type { AnyMark } from '../marks/anyMark.ts';
import type { NoteVerdict } from '../marks/types.ts';
import type { HeardTake } from '../../music/notes.ts';

/**
 * What reading and scales are made of, beside the parts of hearing: each is asked of some notes of a page or a scale.
 * Saved digests hold these names: add, never rename, and raise `DIGEST_VERSION` when a rule changes.
 */
export const WRITTEN_PARTS = [
  'read-natural', // a note in the staff, in the signature, without anything below
  'read-signature', // altered by the signature
  'read-accidental', // by a sign of its own
  'read-ledger-low',
  'read-ledger-high',
  'read-position', // the hand stands above the open position
  'read-shift', // the first two notes after the hand has moved
  'read-leap', // a fifth or more from the note before
  'read-after-rest',
  'read-over-bar', // held over a bar line, and the note after
  'read-quick', // shorter than half a beat, in time
  'read-off-beat', // begins beside the beat, in time
  'scale-plain',
  'scale-crossing', // to another string
  'scale-shift', // to another position
  'scale-turn',
  'scale-position', // above the fourth position
  'scale-arpeggio',
  'scale-signs', // three sharps or flats and more
  'scale-quick', // triplets and semiquavers
] as const;
export type WrittenPart = (typeof WRITTEN_PARTS)[number];

/** How often a part was asked in a take, and came off. */
export type WrittenCount = readonly [part: WrittenPart, right: number, asked: number];

const FIFTH = 7;
const HIGH_POSITION = 5;
const MANY_SIGNS = 3;

/** Parts of each note that hang on its pitch, and those that hang on its time. */
interface Asked {
  readonly pitch: readonly WrittenPart[];
  readonly time: readonly WrittenPart[];
}

const isNatural = (spelling: string): boolean => /^[A-G]-?\d$/.test(spelling);

function readingParts({ phrase, key, instrument, positions }: ReadingTask): Asked[] {
  const bar = barTicks(phrase.metre);
  const beat = bar / phrase.metre.beats;
  const { notes } = phrase;
  let [hand, sinceShift] = [positions[0]?.fret ?? 1, 2];
  return notes.map((note, i): Asked => {
    const before = notes[i - 1];
    const now = positions.findLast((at) => at.bar * bar <= note.startTicks)?.fret ?? hand;
    sinceShift = now === hand ? sinceShift + 1 : 0;
    hand = now;
    const pitch: WrittenPart[] = [];
    const ledgers = ledgerLines(note.spelling, instrument);
    if (isAltered(note.spelling, key)) pitch.push('read-accidental');
    else if (!isNatural(note.spelling)) pitch.push('read-signature');
    if (ledgers !== 0) pitch.push(ledgers < 0 ? 'read-ledger-low' : 'read-ledger-high');
    if (hand > 1) pitch.push('read-position');
    if (sinceShift < 2) pitch.push('read-shift');
    if (before && Math.abs(note.midi - before.midi) >= FIFTH) pitch.push('read-leap');
    if (pitch.length === 0) pitch.push('read-natural');
    const time: WrittenPart[] = [];
    const end = before ? before.startTicks + before.durationTicks : 0;
    if (before && end < note.startTicks) time.push('read-after-rest');
    if (before && Math.floor((end - 1) / bar) > Math.floor(before.startTicks / bar))
      time.push('read-over-bar');
    if (before && note.startTicks - before.startTicks < beat / 2) time.push('read-quick');
    if (note.startTicks % beat !== 0) time.push('read-off-beat');
    return { pitch, time };
  });
}

function scaleParts({ phrase, hands, named, key }: ScaleTask): Asked[] {
  const quick = named.values === 'triplets' || named.values === 'semiquavers';
  const whole: WrittenPart[] = [
    ...(/arpeggio/.test(named.kind) ? (['scale-arpeggio'] as const) : []),
    ...(signatureSize(key) >= MANY_SIGNS ? (['scale-signs'] as const) : []),
    ...(quick ? (['scale-quick'] as const) : []),
  ];
  const turns = (i: number, notes: readonly WrittenNote[]): boolean =>
    i > 1 && (notes[i]!.midi - notes[i - 1]!.midi) * (notes[i - 1]!.midi - notes[i - 2]!.midi) < 0;
  return phrase.notes.map((note, i, notes): Asked => {
    const own: WrittenPart[] = [];
    if (i > 0 && hands[i] !== hands[i - 1]) own.push('scale-shift');
    else if (i > 0 && note.string !== notes[i - 1]!.string) own.push('scale-crossing');
    if (turns(i, notes)) own.push('scale-turn');
    if (hands[i]! >= HIGH_POSITION) own.push('scale-position');
    if (own.length === 0) own.push('scale-plain');
    return { pitch: [...own, ...whole], time: [] };
  });
}

function askedOf(task: Task): Asked[] | null {
  const [page, scale] = [pageOfMusic(task), namedScale(task)];
  return page ? readingParts(page) : scale ? scaleParts(scale) : null;
}

/** Which parts the notes of a task ask for, how many notes each; null for a task that is neither. */
export function writtenPartsOf(task: Task): ReadonlyMap<WrittenPart, number> | null {
  const asked = askedOf(task);
  if (!asked) return null;
  const counts = new Map<WrittenPart, number>();
  for (const { pitch, time } of asked)
    for (const part of [...pitch, ...time]) counts.set(part, (counts.get(part) ?? 0) + 1);
  return counts;
}

const pitchRight = ({ kind }: NoteVerdict): boolean =>
  kind === 'right' || kind === 'early' || kind === 'late';

/**
 * What a take says of each part. In a scale a note that the hands waited for did not come off, though it was the right
 * one; a note that was not heard clearly says nothing.
 */
export function writtenCounts(
  task: Task,
  verdicts: readonly NoteVerdict[],
  waited: ReadonlySet<number>,
): WrittenCount[] {
  const asked = askedOf(task) ?? [];
  const counts = new Map<WrittenPart, [right: number, asked: number]>();
  const say = (part: WrittenPart, right: boolean): void => {
    const [was, of] = counts.get(part) ?? [0, 0];
    counts.set(part, [was + Number(right), of + 1]);
  };
  for (const verdict of verdicts) {
    const { targetIndex, unclear, kind } = verdict;
    if (targetIndex === null || unclear || !asked[targetIndex]) continue;
    const right = pitchRight(verdict) && !waited.has(targetIndex);
    for (const part of asked[targetIndex].pitch) say(part, right);
    for (const part of asked[targetIndex].time) say(part, kind === 'right' || kind === 'wrong');
  }
  return [...counts].map(([part, [right, of]]) => [part, right, of] as const);
}

/** Notes of a scale that the hands waited for. */
export function waitedFor(task: Task, take: HeardTake | undefined, mark: AnyMark): ReadonlySet<number> {
  const scale = namedScale(task);
  const facts = scale && take ? factsOfScale(scale, take, mark) : null;
  return new Set(facts?.hesitations.map(({ note }) => note));
}

/** One entry of a list, whatever its tempo: what its takes are remembered by. */
export function scaleId(entry: ScaleEntry): string {
  const { tonic, kind, octaves, string, position, direction, values, swung } = entry;
  return [
    tonic,
    kind,
    octaves,
    string ?? '-',
    position ?? '-',
    direction,
    values,
    swung ? 'swung' : 'straight',
  ].join(' ');
}
