import { checkedSettings, DEFAULTS } from './check.ts';
import { localKeeper } from './local.ts';
import type { Settings, SettingsKeeper } from './types.ts';

let current = $state.raw<Settings>(DEFAULTS);
let keeper: SettingsKeeper = localKeeper;
let unwatch: (() => void) | undefined;

export const settings = {
  get now(): Settings {
    return current;
  },
};

/** Reads what was kept; call once, before anything is shown. */
export async function loadSettings(from: SettingsKeeper = localKeeper): Promise<void> {
  keeper = from;
  current = checkedSettings(await keeper.read());
  // Of two tabs the one that writes last would bring its old settings back.
  unwatch?.();
  unwatch = keeper.watch?.((kept) => (current = checkedSettings(kept)));
}

/** Changes some settings and keeps them. */
export function change(some: Partial<Settings>): void {
  current = { ...current, ...some };
  void keeper.write(current);
}
