/** True for what folds in again what was folded out: a press beside it, or Escape. */
export function isAway(event: Event, folded: Element | undefined): boolean {
  if (event instanceof KeyboardEvent) return event.key === 'Escape';
  return !(event.target instanceof Node && folded?.contains(event.target));
}
