/** What comes next. */
export { coming, likeIt, type Coming, type Programme } from './programme.ts';
