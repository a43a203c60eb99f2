import { untrack } from 'svelte';
import { toBase64Url } from '../../exchange/index.ts';
import { goTo } from '../state/route.svelte.ts';
import { session } from '../session.svelte.ts';
import { readFile } from '../record/save.ts';
import { kindOf, linkIn } from './kind.ts';
import type { GivenKind } from './kind.ts';

export interface Given {
  /** null: no page opens it. */
  readonly kind: GivenKind | null;
  readonly name: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

/** Where a file is opened; a backup is asked about first. */
const PLACES: Readonly<Record<Exclude<GivenKind, 'homework'>, string>> = {
  backup: '/given',
  results: '/teacher',
  music: '/phrases',
  sound: '/piece',
};

let now = $state.raw<Given | null>(null);
let stop: (() => void) | null = null;

/** Does it now, or once the test is over: a file that is opened ends none. Of several the last counts. */
function afterTest(does: () => void): void {
  stop?.();
  stop = $effect.root(() => {
    const free = $derived(session.state === null);
    $effect(() => {
      if (!free) return;
      untrack(does);
      stop?.();
      stop = null;
    });
  });
}

/** A file that was opened with the app or shared with it, until the page that it belongs to has taken it. */
export const given = {
  get now(): Given | null {
    return now;
  },
  /** Takes what is of this kind, once. */
  take(kind: GivenKind): Given | null {
    const one = now?.kind === kind ? now : null;
    if (one) now = null;
    return one;
  },
  drop(): void {
    now = null;
  },
  /** Goes to the page that opens it. */
  async file(file: File): Promise<void> {
    const bytes = await readFile(file);
    const kind = kindOf(bytes, file.name);
    afterTest(() => {
      if (kind === 'homework') return goTo(`homework=${toBase64Url(bytes)}`);
      now = { kind, name: file.name, bytes };
      goTo(kind === null ? '/given' : PLACES[kind]);
    });
  },
  /** Goes where a link in this text leads. @returns false without one */
  text(text: string): boolean {
    const link = linkIn(text);
    if (link !== null) afterTest(() => goTo(link));
    return link !== null;
  },
};
