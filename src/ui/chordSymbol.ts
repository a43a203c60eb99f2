/** "F#m7b5" to "F♯m7♭5". Chord symbols are written with English letters in every language, as charts are. */
export const printed = (symbol: string): string => symbol.replaceAll('#', '♯').replaceAll('b', '♭');
