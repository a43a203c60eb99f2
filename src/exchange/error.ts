import { Refusal, type Thrown } from '../music/refusal.ts';
import { REFUSALS, type RefusalCode } from './refusals/index.ts';

/** A file that cannot be read as what it should be: a code with its values. `message` is one English sentence, with a remedy. */
export class ExchangeError extends Refusal<RefusalCode> {
  override name = 'ExchangeError';
  constructor(...thrown: Thrown<typeof REFUSALS>) {
    super(REFUSALS, thrown);
  }
}

/** Notes that the instrument does not have; an octave lower or higher it may. */
export class BeyondInstrument extends ExchangeError {}
