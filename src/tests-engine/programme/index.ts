/** What comes next. */
export { coming, likeIt, type Coming, type Programme } from './programme.ts';
export { wayOf, type Way } from './item.ts';
export { readStanding, type Standing } from './standing.ts';
