import { readStanding, type Standing } from '../../tests-engine/index.ts';
import type { Disk } from '../record/disk.svelte.ts';

const KEY = 'standing';

/** Where the player stood when an earlier page was closed, and where they stand now. */
export class LeftOff {
  /** What an earlier page left; null as soon as something is begun in this one. */
  now = $state.raw<Standing | null>(null);
  readonly #disk: Pick<Disk, 'use'>;

  constructor(disk: Pick<Disk, 'use'>) {
    this.#disk = disk;
  }

  /** Reads what an earlier page left. What the start page's settings say anyway is nothing to go on with. */
  async look(): Promise<void> {
    const kept = await this.#disk.use((store) => store.settings.get(KEY));
    const standing = readStanding(kept);
    this.now = standing?.programme.from === 'start' ? null : standing;
  }

  /** The player stands here now: a task was begun, or is done. Resolves when it is on the disk. */
  async keep(standing: Standing): Promise<void> {
    this.now = null;
    // As plain JSON: the disk takes nothing else.
    const plain = JSON.parse(JSON.stringify(standing)) as never;
    await this.#disk.use((store) => store.settings.set(KEY, plain));
  }

  /** There is nothing to go on with. */
  async forget(): Promise<void> {
    this.now = null;
    await this.#disk.use((store) => store.settings.remove(KEY));
  }
}
