/** The backing styles a test may name; `tests-engine/backing` plays them. */
export const STYLES = ['rock', 'shuffle', 'funk', 'ballad', 'reggae', 'latin'] as const;
export type Style = (typeof STYLES)[number];
