/** What reading at sight asks beside a mark: the take among all that was played, and what happened where. */
export { type FoundTake, findTake } from './findTake.ts';
export { readingPlaces } from './places.ts';
export type { PlacesOrder, ReadingEvent } from './types.ts';
