/**
 * Words of tempo from slow to fast, and up to how many beats a minute each is meant. Common practice; the bounds are those
 * printed on metronomes, from memory.
 */
export const TEMPO_WORDS = [
  ['largo', 60],
  ['adagio', 72],
  ['andante', 96],
  ['moderato', 112],
  ['allegro', 168],
  ['presto', Infinity],
] as const;
export type TempoWord = (typeof TEMPO_WORDS)[number][0];

/** The word for so many felt beats a minute. */
export const tempoWord = (beatBpm: number): TempoWord => TEMPO_WORDS.find(([, most]) => beatBpm < most)![0];
