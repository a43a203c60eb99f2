/** How often a server answers; a studio behind one address has forty devices. Tests hand in their own. */
export interface Rates {
  /** Requests a minute from one address, whatever they are. */
  readonly address: number;
  /** Requests a minute of one device: a first pull of a record is some hundred. */
  readonly device: number;
  /** Attempts to join a minute from one address: a class of thirty joins in one lesson. */
  readonly join: number;
}
export const RATES: Rates = { address: 6000, device: 600, join: 60 };

/** Rows a studio may hold: forty students for a lifetime of practice, some 3 GB. */
export const MOST_ITEMS = 2_000_000;
/** Bytes of sound that a studio may hold where its operator says nothing: some four thousand takes. */
export const USUAL_SOUND_BYTES = 2e9;
/** Invitations that wait at once in a studio. */
export const MOST_INVITES = 500;
/** Devices of a studio. */
export const MOST_DEVICES = 2_000;
