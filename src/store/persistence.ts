/** How safe the browser's storage is, and how full. */
export interface StorageState {
  /** `kept`: the browser promised not to evict it. `may-go`: it may, when the disk fills or after weeks. */
  readonly safety: 'kept' | 'may-go' | 'unknown';
  readonly usedBytes: number | null;
  readonly quotaBytes: number | null;
}

export async function storageState(): Promise<StorageState> {
  const storage = navigator.storage as StorageManager | undefined;
  const persisted = await storage?.persisted?.().catch(() => null);
  const estimate = await storage?.estimate?.().catch(() => null);
  return {
    safety: persisted === true ? 'kept' : persisted === false ? 'may-go' : 'unknown',
    usedBytes: estimate?.usage ?? null,
    quotaBytes: estimate?.quota ?? null,
  };
}

const ASKED = 'twobar.storage-asked';

/** Whether it has been asked for before; from now on it has. Where nothing can be remembered it counts as asked. */
function askedBefore(): boolean {
  try {
    const before = localStorage.getItem(ASKED) !== null;
    localStorage.setItem(ASKED, '1');
    return before;
  } catch {
    return true;
  }
}

/** Gecko alone asks its user each time; the others decide by themselves, kinder once the app is installed or used often. */
const promptsItsUser = (): boolean => CSS.supports('-moz-appearance', 'none');

/**
 * Asks the browser to keep the storage. Ask when there is something to lose: after each attempt, after a restore. Where
 * the user would be asked it is asked once by itself; a press of a button asks again. Settles once the user has answered,
 * which may be never: nothing else waits for it.
 */
export async function askToKeep(byUser = false): Promise<StorageState> {
  const storage = navigator.storage as StorageManager | undefined;
  const kept = (await storage?.persisted?.().catch(() => false)) ?? false;
  if (!kept && (byUser || !promptsItsUser() || !askedBefore())) await storage?.persist?.().catch(() => false);
  return storageState();
}
