import type { HeardTake } from '../../../music/notes.ts';
import type { ScaleTask } from '../../../music/task.ts';
import {
  earSpreadMs,
  scaleFacts,
  targetOf,
  type Advice,
  type AdviceCode,
  type AnyMark,
  type ScaleFacts,
  type ScalePlace,
} from '../../marks/index.ts';
import { ofNotes } from '../../marks/anyMark.ts';

/**
 * What is told of a take of a scale beside its mark: worked out anew from its notes, as a mark can be.
 * null where there is no mark to tell it beside.
 */
export function factsOfScale(task: ScaleTask, take: HeardTake, given: AnyMark): ScaleFacts | null {
  const mark = ofNotes(given);
  if (!mark || mark.mark === null) return null;
  return scaleFacts({
    target: targetOf(task.phrase, task),
    fingers: task.phrase.notes.map(({ string, fret }, i) => ({ string, fret, hand: task.hands[i]! })),
    played: take.notes.map(({ onsetSec, midi, levelDb }) => ({ onsetSec, midi, levelDb })),
    mark,
    tempoBpm: task.tempoBpm,
    asked: task.named.tempo,
    swung: task.named.swung,
    earSpreadMs: (midi) => earSpreadMs(task.instrument, midi),
  });
}

/** What the marker says of a note that came late: the same as a wait, in other words. */
const SAYS_LATE: readonly AdviceCode[] = [
  'hesitated',
  'paused',
  'shifted-late',
  'stretch-late',
  'note-late',
  'notes-late',
  'steady-late',
];
const SAYS_TEMPO: readonly AdviceCode[] = ['speeding-up', 'slowing-down', 'uneven'];

const waitAt = (place: ScalePlace, ms: number, note: number): Advice => {
  switch (place.kind) {
    case 'crossing':
      return { code: 'wait-crossing', values: { from: place.from, to: place.to, ms, note } };
    case 'shift':
      return { code: 'wait-shift', values: { position: place.to, ms, note } };
    case 'turn':
      return { code: 'wait-turn', values: { ms, note } };
    case 'plain':
      return { code: 'wait-note', values: { ms, note } };
  }
};

/**
 * The facts as sentences, the one to say before the others. `first`: they go before what the mark says;
 * `instead`: codes of the mark that say the same.
 */
export function toldOfScale(facts: ScaleFacts): {
  readonly first: boolean;
  readonly told: readonly Advice[];
  readonly instead: readonly AdviceCode[];
} {
  const { advice, hesitations, habits } = facts;
  const waits = [...hesitations].sort((a, b) => b.ms - a.ms);
  const said: Advice[] = [];
  const say = (one: Advice): void => {
    if (!said.some(({ code, values }) => code === one.code && sameAt(values, one.values))) said.push(one);
  };
  for (const habit of habits) say({ ...waitAt(habit.place, habit.ms, habit.note + 1), ...timesOf(habit) });
  for (const { place, ms, note } of waits) say(waitAt(place, ms, note + 1));
  if (advice.code !== 'even' && advice.code !== 'notes' && !advice.code.startsWith('wait-'))
    say({ code: advice.code as AdviceCode, values: advice.values });
  // The dearest first, be it a habit or one wait.
  const head = said.findIndex(
    ({ code, values }) => code === advice.code && (values['ms'] ?? null) === (advice.values['ms'] ?? null),
  );
  const told = head > 0 ? [said[head]!, ...said.filter((_, i) => i !== head)] : said;
  return {
    first: advice.code !== 'notes',
    told,
    instead: [...(hesitations.length > 0 ? SAYS_LATE : []), ...SAYS_TEMPO],
  };
}

const timesOf = ({ place, ms, times, note }: ScaleFacts['habits'][number]): Pick<Advice, 'values'> => ({
  values: { ...waitAt(place, ms, note + 1).values, times },
});

/** The same place, or the same kind of crossing or shift. */
function sameAt(a: Advice['values'], b: Advice['values']): boolean {
  return a['from'] !== undefined || a['position'] !== undefined
    ? a['from'] === b['from'] && a['to'] === b['to'] && a['position'] === b['position']
    : a['note'] === b['note'];
}
