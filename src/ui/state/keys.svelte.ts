/**
 * Two keys do everything: Page Down or Space goes on, Page Up goes back (or again). A page-turner pedal sends these, or
 * what its mode says: keys of a media player do the same everywhere, arrows where nothing else is moved by them (common
 * practice of such pedals, no source). The screen shown last decides what they mean.
 */
export interface TwoKeys {
  /** What going on does; null: nothing to go on to now. */
  readonly onward: (() => void) | null;
  readonly back: (() => void) | null;
  /** What the left arrow does beside the two; a pedal with more switches sends it. */
  readonly left?: (() => void) | null;
  /** Arrows are the two keys as well: those to the sides (the left one where it means nothing of its own), or all four. */
  readonly arrows?: 'sides' | 'all';
}

const stack: (() => TwoKeys)[] = [];

/** Gives the two keys a meaning until the returned function is called; the latest meaning counts. */
export function takeKeys(meaning: () => TwoKeys): () => void {
  stack.push(meaning);
  return () => {
    const at = stack.indexOf(meaning);
    if (at >= 0) stack.splice(at, 1);
  };
}

/** Inside a component: the two keys mean this while it is shown. */
export function useKeys(meaning: () => TwoKeys): void {
  $effect(() => takeKeys(meaning));
}

/** True where Space has a meaning of its own, which must win. */
function ownsSpace(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (target instanceof HTMLInputElement && target.type === 'radio') return !target.checked;
  return target.matches('button, a[href], summary, select, textarea, input, [role="button"]');
}

/** True where arrows choose. */
const ownsArrows = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && target.matches('select, input, textarea, [role="slider"]');

/** A slider is moved by the arrows: the keys of a pedal stay the pedal's. */
const isTyping = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement &&
  target.matches('textarea, input:not([type="radio"], [type="checkbox"], [type="range"])');

/** Enter held on a button or link: the browser would press it thirty times a second. */
const isHeld = ({ repeat, key, target }: KeyboardEvent): boolean =>
  repeat && key === 'Enter' && target instanceof HTMLElement && target.matches('button, a[href], summary');

const ONWARD = ['PageDown', 'MediaTrackNext', 'MediaPlayPause'];
const BACK = ['PageUp', 'MediaTrackPrevious'];

function asked({ key, target }: KeyboardEvent, { onward, back, left, arrows }: TwoKeys): TwoKeys['back'] {
  if (ONWARD.includes(key) || (key === ' ' && !ownsSpace(target))) return onward;
  if (BACK.includes(key)) return back;
  if (ownsArrows(target)) return null;
  if (key === 'ArrowLeft') return left ?? (arrows ? back : null);
  if (key === 'ArrowRight') return arrows ? onward : null;
  if (arrows !== 'all') return null;
  return key === 'ArrowDown' ? onward : key === 'ArrowUp' ? back : null;
}

/** Carries out a key press; true when it was one of the two keys and meant something. A key held is one press. */
export function press(event: KeyboardEvent): boolean {
  if (isHeld(event)) {
    event.preventDefault();
    return false;
  }
  if (event.ctrlKey || event.altKey || event.metaKey || event.shiftKey || isTyping(event.target))
    return false;
  const meaning = stack[stack.length - 1]?.();
  const action = meaning && asked(event, meaning);
  if (!action) return false;
  event.preventDefault();
  // A held pedal is one press.
  if (!event.repeat) action();
  return true;
}
