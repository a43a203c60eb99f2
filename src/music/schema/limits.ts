/**
 * Every limit of what a door lets in, in one place; pairs are lowest and highest. Where a limit is no fact of
 * music its reason stands beside it. They refuse the absurd, so that nothing that was let in freezes a page,
 * fills a disk or makes no sound.
 */
export const LIMITS = {
  beats: [1, 16],
  /** A backing counts in minims, crotchets or quavers. */
  beatUnits: [2, 4, 8],
  /** The longest phrase that is a test: a teacher's own may have sixteen bars. */
  bars: [1, 16],
  /** Sixteen bars of 12/8 in semiquavers are 384 notes; more is no phrase. */
  notes: [1, 384],
  /** Sixteen bars of 16/2 bound every time in a phrase. */
  ticks: [0, 16 * 16 * 2 * 480],
  /** Notes begin and end on demisemiquavers or on thirds of a quaver: what else there is cannot be written. */
  gridTicks: [60, 40],
  /** A piece of ten minutes has some 300 bars and 2,000 notes. */
  pieceBars: [1, 1000],
  pieceNotes: [0, 5000],
  pieceTicks: [0, 1000 * 16 * 480],
  tempi: [1, 1000],
  /** Titles and names of files, cut to this where longer. */
  titleSigns: 200,
  printed: [0, 9999],
  /** A quarter of an hour of sound: 160 MB while it is open. */
  trackSec: [1, 900],
  /** Where bar 1 begins: half a minute before its file does at most, for a pick-up or a piece that begins in it. */
  barOneSec: [-30, 900],
  midi: [0, 127],
  /** The lowest and highest note that the sampled instruments sound: an octave beyond their recordings. */
  guitarMidi: [25, 96],
  bassMidi: [13, 70],
  openStringMidi: [12, 84],
  strings: [4, 8],
  frets: [0, 24],
  /** Octaves of a scale, and frets at which the index finger may be asked to begin. */
  octaves: [1, 3],
  position: [1, 20],
  /** Dynamics and articulation on a page: one a note. */
  signs: 384,
  level: [1, 10],
  seed: [0, 0xffff_ffff],
  /** Crotchets a minute. */
  tempoBpm: [30, 240],
  /** Help may slow a take down to a quarter of the slowest tempo, settings speed it up by half. */
  soundedBpm: [30 * 0.25, 240 * 1.5],
  swing: [0.5, 0.75],
  hearings: [1, 10],
  practiceSec: [0, 600],
  /** The longest stretch that is made into sound at once. */
  hearingSec: 600,
  nameSigns: 40,

  /** A sitting of twenty stations would last a day; so would twenty items at one of them. */
  stations: [1, 20],
  stationItems: [1, 20],
  /** Chords of a list of one's own: more is no list that anyone practises. */
  ownChords: 200,
  /** How often a station may begin anew, and faults in it: a broken cable is seen long before. */
  stationTries: [0, 50],

  /** A take lasts minutes; an hour before or after beat 1 is no place in it. */
  takeSec: [-3600, 3600],
  /** A minute of semiquavers at 300 bpm is 1,200. */
  takeNotes: 5000,
  verdicts: 10_000,
  /** Anything measured in ms, ppm, dB, percent or semitones lies far inside. */
  measure: [-1e6, 1e6],
  points: [0, 100],
  readings: 100,
  /** A teacher's own marking: common practice, no source. */
  rubricLines: [3, 6],
  rubricPoints: [0, 10],
  rubricSigns: 80,
  /** Facts of an improvisation, a few hundred at most: some stand for each bar. */
  facts: 1000,
  version: [1, 1e6],
  /** How often a help was used: a held key gives 30 a second. */
  helpTimes: [1, 100_000],
  /** Milliseconds from 1970 to the end of 2099: a clock may be years off, but no clock shows more. */
  instantMs: [0, 4_102_444_800_000],
} as const;
