import { existsSync, readdirSync } from 'node:fs';
import { installAll, isDebianRoot, which } from './debian.ts';

/** A sound server and what speaks to it. */
const SOUND = ['pulseaudio', 'pulseaudio-utils'];

/** Debian keeps the browser around WebKitGTK beside the library, under the name of the platform. */
function miniBrowser(): string | null {
  const lib = '/usr/lib';
  if (!existsSync(lib)) return null;
  for (const platform of readdirSync(lib))
    for (const version of ['webkit2gtk-4.1', 'webkit2gtk-4.0']) {
      const path = `${lib}/${platform}/${version}/MiniBrowser`;
      if (existsSync(path)) return path;
    }
  return null;
}

/** What stands there already, or is there after the packages were installed as root on Debian; else null. */
function brought<T>(find: () => T | null, packages: readonly string[]): T | null {
  const there = find();
  if (there || !isDebianRoot()) return there;
  try {
    installAll(packages);
  } catch {
    return null; // Ubuntu has no Firefox ESR of its own
  }
  return find();
}

/**
 * The path of Firefox (ESR), with a sound server beside it: the one in TWOBAR_FIREFOX, Debian's, or Debian's brought here.
 * null where there is none: its tests skip by name.
 */
export function firefoxPath(): string | null {
  return brought(() => {
    const path = process.env['TWOBAR_FIREFOX'] ?? which('firefox-esr') ?? which('firefox');
    return path && which('pulseaudio') ? path : null;
  }, ['firefox-esr', ...SOUND]);
}

/** What WebKitGTK is driven with. */
export interface WebKit {
  readonly driver: string;
  readonly browser: string;
  /** A display that nobody sees. */
  readonly display: string;
}

/** WebKitGTK's driver and browser, with a sound server and a display beside them; null where there are none. */
export function webkit(): WebKit | null {
  return brought(() => {
    const [driver, browser, display] = [which('WebKitWebDriver'), miniBrowser(), which('Xvfb')];
    return driver && browser && display && which('pulseaudio') ? { driver, browser, display } : null;
  }, [
    ...['webkit2gtk-driver', 'xvfb', ...SOUND],
    ...['good', 'bad'].map((set) => `gstreamer1.0-plugins-${set}`),
    ...['gstreamer1.0-pulseaudio', 'gstreamer1.0-libav'],
  ]);
}
