/**
 * Numbers that everything in this room shares. Sound is heard at the working rate of 44.1 kHz.
 */

/** Samples of a window: 372 ms. E2 and F2 (4.9 Hz) lie 1.8 bins apart, where a Hann window leaks −27 dB. */
export const WINDOW = 16_384;
/** The window is followed by as many zeros: half-bin steps, so that parabolas through peaks err under 1 cent. */
export const FFT_SIZE = 32_768;
/** Between frames: three quarters overlap. */
export const HOP = 4096;
/** No more frames than these: 1.02 s of sound; later a strum's high strings are gone. */
export const MOST_FRAMES = 8;
/** Waited after the first string: the rake and the plectrum's noise go by. */
export const SETTLE_SEC = 0.08;
/** The least that is waited where the next stroke comes soon. */
export const LEAST_SETTLE_SEC = 0.025;
/** A chord that sounds for less can't be told from its neighbours: window and settling, rounded. */
export const LEAST_SOUNDING_SEC = 0.4;

/** Partials of a note that are looked at for the fit, up to {@link TOP_HZ}. */
export const PARTIALS = 12;
/** Partials of a note that its score looks at. */
export const SCORED = 8;
/** How far over a string its partials 2 to 10 lie, semitones. */
export const PARTIALS_OVER: readonly number[] = [12, 19, 24, 28, 31, 34, 36, 38, 40];
/** Above it a guitar's partials stray from any one stiffness and drown in noise. */
export const TOP_HZ = 4200;
/**
 * Stiffness: partial n lies at n f₀ √(1 + B n²). Guitar strings have 2·10⁻⁵ … 1·10⁻⁴ (Järveläinen et al., JASA 2001,
 * quoted from memory); at n = 8 the middle of that is 2 cents off at most.
 */
export const STIFFNESS = 4e-5;

/** The dictionary's notes: E1, the bass's lowest string, to A5. */
export const LOWEST = 28;
export const HIGHEST = 81;
/** Lowest open string where nothing is said: a guitar's with the sixth string let down to D. */
export const GUITAR_LOWEST = 38;

/** The fit's frequency axis: 20-cent bins from 38 Hz (under E1 with −50 cents) to 4.2 kHz. */
export const BIN_CENTS = 20;
export const AXIS_FROM_HZ = 38;
export const AXIS_BINS = 408;
