import { record } from './record.svelte.ts';
import { saveFile } from './save.ts';
import type { BackupReminder } from '../../store/index.ts';

const OFFERED = 'backupOfferedMs';

/** When a backup is due, and one file of everything to the user. */
class Backups {
  reminder = $state.raw<BackupReminder | null>(null);
  /** A file is being made. */
  busy = $state(false);

  async look(): Promise<void> {
    await record.use(async (store) => {
      const { backupDue } = await import('../../store/index.ts');
      const offered = await store.settings.get(OFFERED);
      this.reminder = backupDue(
        await store.backup.state(),
        Date.now(),
        typeof offered === 'number' ? offered : null,
      );
    });
  }

  /** The offer rests for a day. */
  async later(): Promise<void> {
    await record.use((store) => store.settings.set(OFFERED, Date.now()));
    await this.look();
  }

  async save(): Promise<void> {
    this.busy = true;
    try {
      const made = await record.use(async (store) => {
        const { backupName } = await import('../../store/index.ts');
        saveFile(backupName(new Date()), await store.backup.export(), 'application/octet-stream');
        return true;
      });
      // On a full disk the file is made all the same, and only this cannot be noted.
      if (made) await record.use((store) => store.backup.exported());
    } finally {
      this.busy = false;
    }
    await this.look();
  }
}

export const backups = new Backups();
