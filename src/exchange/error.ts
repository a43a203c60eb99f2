/** What kind of refusal it is, where that changes what its owner can do. */
export type Why = 'newer' | 'too-much';

/** A file that cannot be read as what it should be; `message` is one sentence for its owner, with a remedy. */
export class ExchangeError extends Error {
  override name = 'ExchangeError';
  readonly why: Why | null;
  constructor(
    message: string,
    { why = null, ...options }: ErrorOptions & { readonly why?: Why | null } = {},
  ) {
    super(message, options);
    this.why = why;
  }
}

/** Notes that the instrument does not have; an octave lower or higher it may. */
export class BeyondInstrument extends ExchangeError {}
