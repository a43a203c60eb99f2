export interface BackupState {
  readonly lastExportMs: number | null;
  /** Attempts that no export holds. */
  readonly attemptsSince: number;
  /** When the first of them came into the record here, by this device's clock. */
  readonly firstSinceMs: number | null;
}

const DAY_MS = 86_400_000;

/** Whether to offer a backup now, and how old the last is. */
export interface BackupReminder {
  readonly due: boolean;
  /** Whole days since the last export; null = never exported. */
  readonly ageDays: number | null;
  readonly attemptsSince: number;
}

/**
 * A backup is offered once there is an attempt a day old that no export holds, and then at most once a day.
 * A clock set back makes ages 0, never negative; what then lies ahead of the clock counts as waited for.
 * @param lastOfferedMs when it was last offered and put off; null = never
 */
export function backupDue(state: BackupState, nowMs: number, lastOfferedMs: number | null): BackupReminder {
  const { firstSinceMs: first } = state;
  const waited = first !== null && (nowMs - first >= DAY_MS || first - nowMs >= DAY_MS);
  const offered = lastOfferedMs !== null && nowMs - lastOfferedMs < DAY_MS && nowMs >= lastOfferedMs;
  return {
    due: state.attemptsSince > 0 && waited && !offered,
    ageDays:
      state.lastExportMs === null ? null : Math.max(0, Math.floor((nowMs - state.lastExportMs) / DAY_MS)),
    attemptsSince: state.attemptsSince,
  };
}

/** "twobar-2026-11-24.twobar", by the local calendar. */
export function backupName(date: Date): string {
  const two = (n: number) => String(n).padStart(2, '0');
  return `twobar-${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}.twobar`;
}
