import { unsaved } from '../record/record.svelte.ts';
import { typing } from '../record/typed.svelte.ts';
import { session } from '../session.svelte.ts';

/** True while a reload of this page would lose something: a test, takes that are not written, typed text. */
const busyNow = (): boolean => session.state !== null || unsaved.list.length > 0 || typing.now;

/** Tells now and at every change whether this page is busy. */
export function watchBusy(onChange: (busy: boolean) => void): void {
  $effect.root(() => {
    const busy = $derived(busyNow());
    $effect(() => onChange(busy));
  });
}
