/** Names of keys that a phrase may be written in; two that sound alike are both here. */
export const TONICS: readonly string[] = 'C C# Db D Eb E F F# Gb G G# Ab A Bb B'.split(' ');
export const SCALES: readonly string[] = [
  'major',
  'minor',
  'major pentatonic',
  'minor pentatonic',
  'blues',
  'dorian',
  'mixolydian',
  'harmonic minor',
];
