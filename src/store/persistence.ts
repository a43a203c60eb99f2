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

/** Asks the browser to keep the storage. Ask when there is something to lose: after the first attempt. */
export async function askToKeep(): Promise<StorageState> {
  await (navigator.storage as StorageManager | undefined)?.persist?.().catch(() => false);
  return storageState();
}
