import type { Translation } from '../catalogue.ts';

/** Parts of reading and of scales, in Spanish. */
export const WRITTEN_PARTS: NonNullable<Translation['texts']> = {
  'part.read-natural': 'notas sencillas en el pentagrama',
  'part.read-signature': 'notas de la armadura',
  'part.read-accidental': 'alteraciones',
  'part.read-ledger-low': 'líneas adicionales por debajo',
  'part.read-ledger-high': 'líneas adicionales por encima',
  'part.read-position': 'posiciones altas',
  'part.read-shift': 'justo después de un cambio de posición',
  'part.read-leap': 'saltos de quinta o más',
  'part.read-after-rest': 'después de un silencio',
  'part.read-over-bar': 'después de una ligadura sobre la barra',
  'part.read-quick': 'notas rápidas',
  'part.read-off-beat': 'notas a contratiempo',
  'part.scale-plain': 'notas en una cuerda',
  'part.scale-crossing': 'cambios de cuerda',
  'part.scale-shift': 'cambios de posición',
  'part.scale-turn': 'la vuelta arriba',
  'part.scale-position': 'posiciones altas',
  'part.scale-arpeggio': 'arpegios',
  'part.scale-signs': 'tonalidades de tres o más alteraciones',
  'part.scale-quick': 'tresillos y semicorcheas',
};
