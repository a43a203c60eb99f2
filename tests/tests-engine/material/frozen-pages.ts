import { READING_LEVELS, makePage } from '../../../src/tests-engine/material/reading/index.ts';

/** FNV-1a, 32 bits, over the JSON of 20 pages of each level; guitar and bass in turn. See `frozen.ts`. */
export function hashOfPages(): string {
  let hash = 0x811c9dc5;
  for (let level = 1; level <= READING_LEVELS.length; level++)
    for (let i = 0; i < 20; i++) {
      const seed = Math.imul(i + 1, 2654435761) >>> 0;
      const page = makePage(level, { seed, instrument: i % 2 === 0 ? 'guitar' : 'bass' });
      for (const byte of JSON.stringify(page)) hash = Math.imul(hash ^ byte.charCodeAt(0), 0x01000193) >>> 0;
    }
  return hash.toString(16).padStart(8, '0');
}
