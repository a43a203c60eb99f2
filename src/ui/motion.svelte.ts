const query = typeof matchMedia === 'undefined' ? null : matchMedia('(prefers-reduced-motion: reduce)');
let reduced = $state(query?.matches ?? false);
query?.addEventListener('change', (event) => (reduced = event.matches));

/** Whether the user asked for less motion. */
export const reducedMotion = {
  get now(): boolean {
    return reduced;
  },
};
