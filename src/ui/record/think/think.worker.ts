/** What takes a noticeable while to work out from a record, off the page's thread; one job at a time, in order. */
import { expose } from 'comlink';
import { isPitched } from '../../../music/kinds.ts';
import type { Instrument } from '../../../music/score.ts';
import { chooseNext, makeTest, troubles } from '../../../tests-engine/index.ts';
import type { ChoiceRequest, PositionName } from '../../../tests-engine/index.ts';

/** A test is made for this player; what is asked for cannot carry how it is made. */
export interface NextRequest {
  readonly request: Omit<ChoiceRequest, 'make'>;
  readonly instrument: Instrument;
  readonly tuning: readonly number[];
  readonly position: PositionName | null;
}

const thinking = {
  troubles,
  next({ request, instrument, tuning, position }: NextRequest) {
    const placed = isPitched(request.kind) && position ? { position } : {};
    return chooseNext({ ...request, make: (asked) => makeTest({ ...asked, instrument, tuning, ...placed }) });
  },
};
export type Thinking = typeof thinking;

expose(thinking);
