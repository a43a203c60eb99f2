import type { Style } from './style.ts';
import { ballad } from './styles/ballad.ts';
import { funk } from './styles/funk.ts';
import { latin } from './styles/latin.ts';
import { reggae } from './styles/reggae.ts';
import { rock } from './styles/rock.ts';
import { shuffle } from './styles/shuffle.ts';

const ALL: readonly Style[] = [rock, shuffle, funk, ballad, reggae, latin];

/** Names of the backing styles that a test may ask for. */
export const STYLE_NAMES: readonly string[] = ALL.map((style) => style.name);

/** The style of that name. Throws RangeError for a name that is not in {@link STYLE_NAMES}. */
export function styleNamed(name: string): Style {
  const style = ALL.find((s) => s.name === name);
  if (!style)
    throw new RangeError(`no backing style is called "${name}"; there are ${STYLE_NAMES.join(', ')}`);
  return style;
}
