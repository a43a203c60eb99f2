/**
 * The next place in the order of attempts: the clock, or one past the last place where the clock does
 * not move on or was set back. So the order is that of events on a device, and near true time between
 * devices. (The one-counter form of the hybrid logical clock: Kulkarni et al. 2014, "Logical physical
 * clocks and consistent snapshots in globally distributed databases", algorithm of fig. 5 with l and c
 * in one number; a millisecond has room for what a person can do in it.)
 *
 * @param lastOrder the highest order known here, imported ones included; 0 when there is none
 * @param nowMs the device's clock, ms since 1970
 */
export function nextOrder(lastOrder: number, nowMs: number): number {
  if (!Number.isSafeInteger(lastOrder) || lastOrder < 0)
    throw new RangeError(`lastOrder must be a whole number >= 0, got ${lastOrder}`);
  if (!Number.isFinite(nowMs)) throw new RangeError(`nowMs must be finite, got ${nowMs}`);
  return Math.max(lastOrder + 1, Math.floor(nowMs));
}
