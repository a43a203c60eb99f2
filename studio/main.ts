import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { makeServer } from './app.ts';
import { openDatabase } from './database/open.ts';
import { USUAL_SOUND_BYTES } from './limits.ts';
import { hasStudio, newStudio } from './setup.ts';

/** `npm run studio`: see README.md beside this file for its settings. */
const {
  DATABASE_URL,
  STUDIO_FOLDER = 'studio-data',
  HOST = '127.0.0.1',
  PORT = '8470',
  TRUST_PROXY,
  ORIGIN,
  STUDIO_SOUND_MB,
} = process.env;

const soundBytes = STUDIO_SOUND_MB === undefined ? USUAL_SOUND_BYTES : Number(STUDIO_SOUND_MB) * 1e6;
if (!(soundBytes >= 0 && Number.isSafeInteger(soundBytes))) {
  console.error(
    `STUDIO_SOUND_MB is a number of megabytes, such as 2000, or 0 for none; not ${STUDIO_SOUND_MB}.`,
  );
  process.exit(1);
}

const dist = resolve(import.meta.dirname, '../dist');
const built = existsSync(dist);
if (!built) console.error('The app is not built, only the interface is served: run `npm run build`.');
const db = await openDatabase(DATABASE_URL ?? resolve(STUDIO_FOLDER)).catch((error: unknown) => {
  console.error(`The database does not open: ${error instanceof Error ? error.message : String(error)}`);
  process.exit(1);
});
const app = await makeServer({
  db,
  ...(built ? { dist } : {}),
  ...{ trustProxy: TRUST_PROXY === '1', soundBytes },
  onFailure: (error) => console.error(error),
});
const address = await app.listen({ host: HOST, port: Number(PORT) });
const origin = ORIGIN ?? address;
console.log(`Twobar and its studio: ${origin}/`);
if (process.argv.includes('--new') || !(await hasStudio(db)))
  console.log(
    `Opened once, within a week, this makes the first teacher’s machine:\n${origin}/#/studio/first/${await newStudio(db, Date.now())}`,
  );

const end = async (): Promise<void> => {
  await app.close();
  await db.close();
  process.exit(0);
};
process.once('SIGTERM', () => void end());
process.once('SIGINT', () => void end());
