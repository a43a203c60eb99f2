/** Samples in, notes out. The door of `dsp`: pure, no browser, clock or randomness. */
export { hearTake } from './hear/hearTake.ts';
export type { HearOptions } from './hear/hearTake.ts';
export { createListener } from './hear/listener.ts';
export type { Listener } from './hear/listener.ts';
export { createRealFft } from './spectrum/realFft.ts';
export type { RealFft } from './spectrum/realFft.ts';
export { hann } from './spectrum/hann.ts';
export { createResampler } from './signal/resampler.ts';
export type { Resampler } from './signal/resampler.ts';
export { createHalver, halve } from './signal/halve.ts';
export { createLiveEar } from './live/liveEar.ts';
export type { LiveEar, LiveEarEvent } from './live/types.ts';
export { hearOverBacking } from './bleed/index.ts';
export type { OverOptions } from './bleed/index.ts';
export {
  answerChords,
  createLiveChords,
  hearChordTake,
  hearStrums,
  hearStrumsOver,
  judgeStrum,
  practiseChords,
  soundingNotes,
} from './chords/index.ts';
export type {
  AskedSpan,
  ChordTakeOptions,
  HeardStrum,
  JudgeOptions,
  LiveAsked,
  LiveChord,
  LiveChords,
  StrumOptions,
  StrumsOver,
} from './chords/index.ts';
export { findProbe, makeProbe, tripFromNotes } from './latency/index.ts';
export type { MeasuredTrip, Probe } from './latency/index.ts';
export { findBeats, onsetStrength } from './beats/index.ts';
export type { BeatOrder, FoundBeats, Strength } from './beats/index.ts';
export { LISTENER_VERSION } from './version.ts';
