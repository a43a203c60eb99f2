import type { ReadingTask } from '../../music/task.ts';
import type { Piece } from '../engraving/layout.ts';

/** What a page is written on; in TAB alone its rhythm stands over it on one line. */
export const writtenAs = ({ shows, signs, positions }: ReadingTask): Partial<Piece> => ({
  tab: shows !== 'staff',
  oneLine: shows === 'tab',
  pageSigns: signs,
  positions,
});
