/**
 * The rhythm figures that levels are made of. Numbers are ticks (480 = a crotchet): positive sounds,
 * negative is silent. `held`: the first part is tied over from the note before.
 */
export interface Figure {
  readonly id: string;
  /** What a teacher calls it. */
  readonly reads: string;
  readonly parts: readonly number[];
  readonly held?: true;
}

const SIMPLE: readonly Figure[] = [
  { id: 'crotchet', reads: 'crotchet', parts: [480] },
  { id: 'minim', reads: 'minim', parts: [960] },
  { id: 'quavers', reads: 'two quavers', parts: [240, 240] },
  { id: 'crotchet-rest', reads: 'crotchet rest', parts: [-480] },
  { id: 'rest-quaver', reads: 'quaver rest, quaver', parts: [-240, 240] },
  { id: 'quaver-rest', reads: 'quaver, quaver rest', parts: [240, -240] },
  { id: 'dotted', reads: 'dotted crotchet, quaver', parts: [720, 240] },
  { id: 'quaver-crotchet-quaver', reads: 'quaver, crotchet, quaver', parts: [240, 480, 240] },
  { id: 'quaver-dotted', reads: 'quaver, dotted crotchet', parts: [240, 720] },
  { id: 'tied-quaver', reads: 'tied over, quaver', parts: [240, 240], held: true },
  { id: 'tied-crotchet', reads: 'tied over a crotchet', parts: [480], held: true },
  { id: 'triplet', reads: 'triplet quavers', parts: [160, 160, 160] },
  { id: 'triplet-long-short', reads: 'triplet crotchet, quaver', parts: [320, 160] },
  { id: 'triplet-rest-first', reads: 'triplet with a rest first', parts: [-160, 160, 160] },
  { id: 'four-semis', reads: 'four semiquavers', parts: [120, 120, 120, 120] },
  { id: 'quaver-two-semis', reads: 'quaver, two semiquavers', parts: [240, 120, 120] },
  { id: 'two-semis-quaver', reads: 'two semiquavers, quaver', parts: [120, 120, 240] },
  { id: 'dotted-semi', reads: 'dotted quaver, semiquaver', parts: [360, 120] },
  { id: 'semi-dotted', reads: 'semiquaver, dotted quaver', parts: [120, 360] },
  { id: 'semi-quaver-semi', reads: 'semiquaver, quaver, semiquaver', parts: [120, 240, 120] },
  { id: 'rest-two-semis', reads: 'quaver rest, two semiquavers', parts: [-240, 120, 120] },
  { id: 'semi-rest-three', reads: 'semiquaver rest, three semiquavers', parts: [-120, 120, 120, 120] },
  { id: 'tied-two-semis', reads: 'tied over, two semiquavers', parts: [240, 120, 120], held: true },
  {
    id: 'tied-semi-quaver',
    reads: 'tied semiquaver, semiquaver, quaver',
    parts: [120, 120, 240],
    held: true,
  },
  { id: 'tied-dotted-semi', reads: 'tied over, last semiquaver', parts: [360, 120], held: true },
];

const COMPOUND: readonly Figure[] = [
  { id: 'dotted-crotchet', reads: 'dotted crotchet', parts: [720] },
  { id: 'crotchet-quaver', reads: 'crotchet, quaver', parts: [480, 240] },
  { id: 'three-quavers', reads: 'three quavers', parts: [240, 240, 240] },
  { id: 'quaver-crotchet', reads: 'quaver, crotchet', parts: [240, 480] },
  { id: 'rest-two-quavers', reads: 'quaver rest, two quavers', parts: [-240, 240, 240] },
  { id: 'crotchet-rest-quaver', reads: 'crotchet rest, quaver', parts: [-480, 240] },
  { id: 'tied-two-quavers', reads: 'tied over, two quavers', parts: [240, 240, 240], held: true },
  { id: 'tied-crotchet-quaver', reads: 'tied crotchet, quaver', parts: [480, 240], held: true },
  { id: 'tied-dotted-crotchet', reads: 'tied over a dotted crotchet', parts: [720], held: true },
  { id: 'siciliano', reads: 'dotted quaver, semiquaver, quaver', parts: [360, 120, 240] },
  { id: 'quaver-semis-quaver', reads: 'quaver, two semiquavers, quaver', parts: [240, 120, 120, 240] },
  { id: 'two-quavers-semis', reads: 'two quavers, two semiquavers', parts: [240, 240, 120, 120] },
  { id: 'semis-two-quavers', reads: 'two semiquavers, two quavers', parts: [120, 120, 240, 240] },
  { id: 'duplet-feel', reads: 'two dotted quavers', parts: [360, 360] },
];

export const FIGURES: readonly Figure[] = [...SIMPLE, ...COMPOUND];

const byId = new Map(FIGURES.map((figure) => [figure.id, figure]));

/** @throws RangeError naming the known figures when there is none of this id. */
export function figure(id: string): Figure {
  const found = byId.get(id);
  if (!found) throw new RangeError(`no rhythm figure "${id}"; known: ${[...byId.keys()].join(', ')}`);
  return found;
}

export const figureTicks = (f: Figure): number => f.parts.reduce((sum, part) => sum + Math.abs(part), 0);
