import { record } from '../record/record.svelte.ts';

const KEY = 'sittingSpoken';

/** Whether the examiner's sentences are said aloud as well as shown. */
class Spoken {
  on = $state(true);

  async read(): Promise<void> {
    if ((await record.use((store) => store.settings.get(KEY))) === false) this.on = false;
  }

  set(on: boolean): void {
    this.on = on;
    void record.use((store) => store.settings.set(KEY, on));
  }
}
export const spoken = new Spoken();
