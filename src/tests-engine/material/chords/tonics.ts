/** Keys that chords may be asked in, major and minor; those with shapes that have open strings. */
export const CHORD_TONICS = ['C', 'G', 'D', 'A', 'E', 'F'] as const;
