/** Resolves once the page as it is now has been drawn. */
export const afterPicture = (): Promise<void> =>
  new Promise((resolve) => {
    requestAnimationFrame(() => setTimeout(resolve));
  });

/** Resolves while the page has nothing else to do. */
export const rest = (): Promise<void> =>
  new Promise((resolve) => {
    // Safari has no idle callback: there a moment later, which is after the picture at least.
    if ('requestIdleCallback' in window) requestIdleCallback(() => resolve());
    else setTimeout(resolve, 100);
  });
