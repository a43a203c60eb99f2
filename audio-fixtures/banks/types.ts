/** One recorded note of an instrument, mono. */
export interface RecordedNote {
  readonly bank: string;
  readonly name: string;
  /** The pitch it was measured to sound at; fractional MIDI number. */
  readonly midi: number;
  /** From about 15 ms before the attack; read from disk at first use. */
  readonly pcm: Float32Array;
  readonly sampleRate: number;
}

/** A set of recorded notes of one instrument, lowest first. */
export interface Bank {
  readonly name: string;
  readonly instrument: 'guitar' | 'bass';
  readonly notes: readonly RecordedNote[];
}
