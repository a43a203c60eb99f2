/** What takes a noticeable while to work out from a record, off the page's thread; one job at a time, in order. */
import { isPitched } from '../../../music/kinds.ts';
import { chooseNext, makeTest, troubles } from '../../../tests-engine/index.ts';
import type {
  Choice,
  ChoiceRequest,
  PartEstimate,
  PositionName,
  Practised,
} from '../../../tests-engine/index.ts';
import type { Instrument } from '../../../music/score.ts';

export type Thought =
  | {
      readonly job: 'next';
      readonly request: Omit<ChoiceRequest, 'make'>;
      readonly instrument: Instrument;
      readonly tuning: readonly number[];
      readonly position: PositionName | null;
    }
  | { readonly job: 'troubles'; readonly record: readonly Practised[]; readonly manner: Practised['manner'] };

export interface Answers {
  readonly next: Choice;
  readonly troubles: readonly PartEstimate[];
}
export type ThoughtAnswer =
  | { readonly id: number; readonly answer: Answers[keyof Answers] }
  | { readonly id: number; readonly failed: string };

function think(thought: Thought): Answers[keyof Answers] {
  if (thought.job === 'troubles') return troubles(thought.record, thought.manner);
  const { request, instrument, tuning } = thought;
  const position = isPitched(request.kind) ? thought.position : null;
  const own = { instrument, tuning, ...(position ? { position } : {}) };
  return chooseNext({ ...request, make: (asked) => makeTest({ ...asked, ...own }) });
}

self.onmessage = ({ data: { id, thought } }: MessageEvent<{ id: number; thought: Thought }>) => {
  try {
    self.postMessage({ id, answer: think(thought) } satisfies ThoughtAnswer);
  } catch (error) {
    self.postMessage({ id, failed: String(error) } satisfies ThoughtAnswer);
  }
};
