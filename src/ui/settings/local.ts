import type { Settings, SettingsKeeper } from './types.ts';

const PLACE = 'twobar.settings';

/** Keeps settings in this browser. Where the browser allows no storage they last as long as the page. */
export const localKeeper: SettingsKeeper = {
  async read() {
    try {
      return JSON.parse(localStorage.getItem(PLACE) ?? 'null') as unknown;
    } catch {
      return null;
    }
  },
  async write(settings: Settings) {
    try {
      localStorage.setItem(PLACE, JSON.stringify(settings));
    } catch {
      // Private windows and full disks refuse; the settings then last for this visit.
    }
  },
  watch(changed) {
    const told = ({ key, newValue }: StorageEvent): void => {
      if (key !== PLACE || newValue === null) return;
      try {
        changed(JSON.parse(newValue));
      } catch {
        // What is no JSON was not written by the app.
      }
    };
    addEventListener('storage', told);
    return () => removeEventListener('storage', told);
  },
};
