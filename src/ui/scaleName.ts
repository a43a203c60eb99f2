import type { ScaleEntry, ScaleKind } from '../music/scales.ts';
import { fill, SCALES, t } from './messages.ts';
import { keyName, ordinal } from './names.ts';

/** "F♯ harmonic minor". */
export const scaleName = ({ tonic, kind }: ScaleEntry): string => keyName({ tonic, scale: kind });

/** "harmonic minor", without the note it begins on: to choose from. */
export const kindName = (kind: ScaleKind): string =>
  Object.hasOwn(SCALES, kind)
    ? fill(SCALES[kind as keyof typeof SCALES], { tonic: '', small: '' })
        .replace(/\s+/g, ' ')
        .replace(/^[\s-]+/, '')
    : kind;

export const tempoText = ([slow, fast]: ScaleEntry['tempo']): string =>
  slow === fast ? t('scales.tempo', { tempo: slow }) : t('scales.tempo.range', { from: slow, to: fast });

/** "open position", "5th position": where the index finger stands. */
export const positionName = (fret: number): string =>
  fret <= 1 ? t('scales.position.open') : t('scales.position.n', { ordinal: ordinal(fret) });

/** What an examiner says after the name: "two octaves up and down, quavers, from the 6th string". */
export function scaleTerms(entry: ScaleEntry): string {
  const { octaves, direction, values, swung, string, position } = entry;
  return [
    octaves === 1 ? t('scales.one-octave') : t('scales.n-octaves', { octaves }),
    t(`scales.direction.${direction}`),
    swung ? `${t(`scales.values.${values}`)}, ${t('scales.swung')}` : t(`scales.values.${values}`),
    ...(string === null ? [] : [t('scales.from-string', { ordinal: ordinal(string) })]),
    ...(position === null ? [] : [positionName(position)]),
  ].join(', ');
}
