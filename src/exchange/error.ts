/** A file that cannot be read as what it should be; `message` is one sentence for its owner, with a remedy. */
export class ExchangeError extends Error {
  override name = 'ExchangeError';
}

/** Notes that the instrument does not have; an octave lower or higher it may. */
export class BeyondInstrument extends ExchangeError {}
