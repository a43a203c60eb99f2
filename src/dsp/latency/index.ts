export { findProbe, type MeasuredTrip } from './findProbe.ts';
export { tripFromNotes } from './fourNotes.ts';
export { makeProbe, type Probe } from './probe.ts';
