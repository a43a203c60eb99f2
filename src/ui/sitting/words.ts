import type { Station, StationRun, UnseenChoice } from '../../music/sitting.ts';
import { numberText, t, type MessageKey } from '../messages.ts';

/** What a station is called: the unseen by what was chosen. */
export function stationName(
  { what }: Station,
  { choice }: Pick<StationRun, 'choice'> = { choice: null },
): string {
  return t(what === 'unseen' && choice ? `sitting.station.${choice}` : `sitting.station.${what}`);
}

/** "level 3, 4 of them, without a click": what of its settings tells one from another; the unseen by what was chosen. */
export function stationAbout(station: Station, choice: UnseenChoice | null = null): string {
  const level = (n: number): string => t('start.level.n', { level: n });
  switch (station.what) {
    case 'sound':
      return '';
    case 'pieces':
      return station.pieces.map(({ title }) => title).join(' · ');
    case 'scales':
      return [
        station.list?.name ?? level(station.level),
        t('sitting.count', { count: station.count }),
        t(station.click ? 'sitting.click.yes' : 'sitting.click.no'),
      ].join(', ');
    case 'chords':
      return [
        station.list?.name ??
          station.families
            .map((family) => t(`chords.family.${family}` as MessageKey & 'nav.start'))
            .join(', '),
        t('sitting.count', { count: station.count }),
      ].join(', ');
    case 'unseen':
      if (choice) return level(choice === 'reading' ? station.readingLevel : station.improvisingLevel);
      return [
        ...(station.offers === 'improvising'
          ? []
          : [`${t('sitting.station.reading')}: ${level(station.readingLevel)}`]),
        ...(station.offers === 'reading'
          ? []
          : [`${t('sitting.station.improvising')}: ${level(station.improvisingLevel)}`]),
      ].join(' · ');
    default:
      return [level(station.level), t('sitting.count', { count: station.count })].join(', ');
  }
}

/** What an examiner says at a station: before its first item, or before the next; the unseen by what was chosen. */
export function stationSays(station: Station, run: StationRun, choosing: boolean): string {
  if (station.what === 'pieces')
    return t(
      choosing
        ? run.played.length === 0
          ? 'sitting.say.pieces'
          : 'sitting.say.pieces.next'
        : 'sitting.say.pieces.one',
    );
  if (station.what === 'unseen') {
    if (choosing) return t('sitting.say.unseen');
    const reads = (run.choice ?? station.offers) !== 'improvising';
    return reads
      ? t('sitting.say.reading', { seconds: numberText(station.readingSec) })
      : t('sitting.say.improvising', { seconds: numberText(station.improvisingSec) });
  }
  return t(run.played.length === 0 ? `sitting.say.${station.what}` : 'sitting.say.next');
}

/** "12 min" of a time in ms; under one minute: "under a minute". */
export const minutesText = (ms: number): string =>
  ms < 60_000 ? t('sitting.minute.none') : t('sitting.minutes', { count: Math.floor(ms / 60_000) });
