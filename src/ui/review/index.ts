/** What a teacher says of a take; fetched when the first result is read, not before the first page. */
export { default as AttemptActions } from './AttemptActions.svelte';
export { default as ReviewForm } from './ReviewForm.svelte';
export { Review } from './review.svelte.ts';
