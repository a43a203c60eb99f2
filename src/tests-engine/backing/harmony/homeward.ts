import type { Key } from '../../../music/score.ts';
import type { Option } from './palette.ts';

/**
 * What a chord that comes before the tonic for good costs, semitones above the tonic, as the tables of cadences have it:
 * authentic from V or vii°, plagal from IV; in minor rock and in the modes from bVII, iv or a minor v. bVI shares two
 * tones with the tonic, and from bIII, vi or iii nothing comes home.
 */
const LEADS: Readonly<Record<number, number>> = { 7: 0, 11: 0.4, 10: 0.2, 5: 0.3, 2: 1, 1: 0.5, 8: 2.4 };
const NOWHERE = 7;

/** A phrase may come home before its last part: at the last bar line for little, earlier hardly. */
const EARLY = { lastBar: 0.5, before: 4 };

/** Semitones above a root of a minor seventh: sung over its chord it belongs to it, and the chord is named with it. */
const MINOR_SEVENTH = 10;

/** The minor seventh that belongs to a chord of the key, as a pitch class; null where it has none. */
export function ownSeventh({ seventh, tones }: Option): number | null {
  if (seventh === null || seventh === 'major seventh') return null;
  return (tones[0]! + MINOR_SEVENTH) % 12;
}

export interface Part {
  readonly opens: boolean;
}

interface Path {
  readonly cost: number;
  /** Options by index; the tonic for good is the tonic's. */
  readonly chosen: readonly number[];
}

/**
 * The cheapest way through the chords that ends on the tonic after a chord which leads there (dynamic programming; the
 * tonic for good is a state of its own, which only such a chord leads into and nothing leaves). A phrase that cannot end
 * there may end elsewhere, dearly.
 *
 * @param own what each option costs in each part, ends included. @param move what going from one to another costs.
 * @returns options by index, one a part.
 */
export function homeward(
  { key }: { readonly key: Key },
  options: readonly Option[],
  parts: readonly Part[],
  own: readonly (readonly number[])[],
  move: (before: Option, after: Option, part: number) => number,
): readonly number[] {
  const tonic = options.findIndex(({ above }) => above === 0);
  const last = parts.length - 1;
  const lastBar = parts.findLastIndex(({ opens }) => opens);
  const leads = ({ above }: Option): number =>
    key.scale === 'harmonic minor' && [2, 8].includes(above) ? NOWHERE : (LEADS[above] ?? NOWHERE);
  let away: (Path | null)[] = options.map((_, k) => ({ cost: own[0]![k]!, chosen: [k] }));
  let home: Path | null = null;
  for (let i = 1; i <= last; i++) {
    const cheapest = (paths: readonly (Path | null)[], cost: (path: Path) => number): Path | null =>
      paths.reduce<Path | null>((best, path) => {
        if (!path) return best;
        const whole = path.cost + cost(path);
        return best && best.cost <= whole ? best : { cost: whole, chosen: path.chosen };
      }, null);
    const ended = (path: Path | null, k: number): Path | null =>
      path && { cost: path.cost + own[i]![k]!, chosen: [...path.chosen, k] };
    const from = (path: Path): Option => options[path.chosen.at(-1)!]!;
    const next = options.map((option, k) =>
      ended(
        cheapest(away, (path) => move(from(path), option, i)),
        k,
      ),
    );
    const arriving = cheapest(
      away.map((path) => (path && from(path).above === 0 ? null : path)),
      (path) => move(from(path), options[tonic]!, i) + leads(from(path)),
    );
    const staying: Path | null = home && {
      ...home,
      cost: home.cost + (i > lastBar ? EARLY.lastBar : EARLY.before),
    };
    const better = arriving && (!staying || arriving.cost < staying.cost) ? arriving : staying;
    home = ended(better, tonic);
    away = next;
  }
  const open = away
    .filter((path): path is Path => path !== null && options[path.chosen.at(-1)!]!.above !== 0)
    .reduce<Path | null>((a, b) => (a && a.cost <= b.cost ? a : b), null);
  const best = home && (!open || home.cost <= open.cost) ? home : open;
  return best ? best.chosen : parts.map(() => tonic);
}
