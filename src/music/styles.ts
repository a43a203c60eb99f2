/** The backing styles a test may name; `tests-engine/backing` plays them. */
export const STYLES = ['rock', 'shuffle', 'funk', 'ballad', 'reggae', 'latin'] as const;
export type Style = (typeof STYLES)[number];

/** Versions of what plays a backing with chords; a test says by which it is played. The last is the present one. */
export const ARRANGERS = [2, 3, 4] as const;
export type Arranger = (typeof ARRANGERS)[number];
