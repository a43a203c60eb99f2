/** Where the app is: what stands after `#/`. Anything after `#` that does not start with `/` is a link to a test. */
export const ROUTES = [
  'start',
  'check',
  'test',
  'practice',
  'read',
  'chords',
  'scales',
  'improvise',
  'piece',
  'questions',
  'progress',
  'sitting',
  'plan',
  'teacher',
  'data',
  'homework',
  'given',
  'who',
  'studio',
  'phrases',
  'settings',
  'about',
  'licences',
] as const;
export type RouteName = (typeof ROUTES)[number];

export interface Route {
  readonly name: RouteName | 'missing' | 'link';
  /** What follows the name, taken apart at the slashes. */
  readonly rest: readonly string[];
  /** The whole text after `#`, for links. */
  readonly hash: string;
}

/** Reads the text after `#`. The empty hash is the start. */
export function parseRoute(hash: string): Route {
  const text = hash.replace(/^#/, '');
  if (text === '' || text === '/') return { name: 'start', rest: [], hash: text };
  if (!text.startsWith('/')) return { name: 'link', rest: [], hash: text };
  const [first, ...rest] = text.slice(1).split('/');
  const name = ROUTES.find((route) => route === first) ?? 'missing';
  return { name, rest, hash: text };
}

let current = $state.raw<Route>(parseRoute(typeof location === 'undefined' ? '' : location.hash));

export const route = {
  get now(): Route {
    return current;
  },
};

/** Follows the address bar; returns what stops it. */
export function followAddress(): () => void {
  const read = (): void => {
    current = parseRoute(location.hash);
  };
  read();
  window.addEventListener('hashchange', read);
  return () => window.removeEventListener('hashchange', read);
}

/** Goes to an address (what stands after `#`); `replace` leaves no step back to the page left. */
export function goTo(hash: string, replace = false): void {
  if (replace) {
    history.replaceState(null, '', `#${hash}`);
    current = parseRoute(hash);
  } else location.hash = `#${hash}`;
}

/**
 * For work that may end after its page was left: asked when it begins, it answers later whether that page is still shown.
 * Nobody is taken from where they went meanwhile.
 */
export function pageAsked(): () => boolean {
  const asked = location.hash;
  return () => location.hash === asked;
}

/** Goes to a page; `replace` leaves no step back to the page left. */
export function go(name: RouteName, replace = false): void {
  goTo(name === 'start' ? '/' : `/${name}`, replace);
}
