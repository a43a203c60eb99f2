import * as v from 'valibot';
import { soundedTask } from '../../src/music/schema/index.ts';

/** A task as the record keeps it: through its schema and JSON. @throws where it does not fit */
export const checkOwnTask = (task: unknown): unknown =>
  v.parse(soundedTask as v.GenericSchema, JSON.parse(JSON.stringify(task)));
