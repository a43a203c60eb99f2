import { gunzipped } from '../exchange/index.ts';
import { fromBase64Url, idAfter, through, toBase64Url, utf8 } from './bytes.ts';
import type { Bytes } from './bytes.ts';
import { decrypt, encrypt } from './cipher.ts';
import type { Change, Version } from './local.ts';
import type { Lane, SentItem } from './wire.ts';

/** Which rows a student's own devices may read; all others are the desk's. */
const SHARED = new Set(['attempts', 'homework', 'overrides', 'sittings']);
/** Of which a student's device adds to them; the desk takes none but these from it. */
export const OF_A_STUDENTS_DEVICE: ReadonlySet<string> = new Set(['attempts', 'sittings']);
/** Text that one row may unpack to, bytes. */
const MOST_TEXT = 8_000_000;

/** Packed bytes up to which a row is unpacked at once; a take packs to 2 kB. */
const SMALL = 32_768;

/** What binds a row to its place: moved elsewhere by the server it does not open. */
const about = (studio: string, { id, scope, lane, keyId }: Omit<SentItem, 'body'>): string =>
  JSON.stringify(['row', studio, scope, lane, keyId, id]);

/** One row on its way, before it is encrypted. */
export interface Parcel {
  readonly id: string;
  readonly scope: string;
  readonly lane: Lane;
  readonly version: Version;
}

/** A student's card as they may see it: what the teacher notes of them stays at the desk. */
const forTheStudent = (row: unknown): unknown =>
  typeof row === 'object' && row !== null ? { ...row, remark: '' } : row;

/**
 * What is sent for a change: the row itself, the card that a student may see, and word to each student with whom an earlier
 * version of it may still stand.
 */
export async function parcelsOf(change: Change, schema: number): Promise<Parcel[]> {
  const { table, key, scope, sent, awayFrom, stamp, item, row, deleted } = change;
  const lane: Lane = SHARED.has(table) ? 'shared' : 'desk';
  const away = row === null && !deleted;
  const version: Version = { schema, table, key, stamp, item, row, moved: away };
  const all: Parcel[] = sent ? [] : [{ id: item, scope, lane, version }];
  if (table === 'students' && !sent)
    all.push({
      id: await idAfter(item, 'shared'),
      scope,
      lane: 'shared',
      version: { ...version, row: forTheStudent(row) },
    });
  for (const one of awayFrom)
    all.push({
      id: await idAfter(item, `away from ${one.scope}`),
      scope: one.scope,
      lane,
      version: { ...version, row: null, moved: !deleted },
    });
  return all;
}

/** Ids of all that was sent for a version. */
export const sentFor = async (table: string, item: string): Promise<string[]> =>
  table === 'students' ? [item, await idAfter(item, 'shared')] : [item];

export async function close(
  studio: string,
  key: { readonly id: string; readonly raw: Bytes },
  { id, scope, lane, version }: Parcel,
): Promise<SentItem> {
  const place = { id, scope, lane, keyId: key.id };
  const packed = await through(utf8(JSON.stringify(version)), new CompressionStream('gzip'), MOST_TEXT);
  return { ...place, body: toBase64Url(await encrypt(key.raw, about(studio, place), packed)) };
}

/** @throws Error for what does not open or says nothing that makes sense */
export async function open(studio: string, raw: Bytes, item: SentItem): Promise<Version> {
  const packed = await decrypt(raw, about(studio, item), fromBase64Url(item.body));
  const text =
    packed.length > SMALL
      ? await through(packed, new DecompressionStream('gzip'), MOST_TEXT)
      : gunzipped(packed, MOST_TEXT);
  const version = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(text)) as Partial<Version>;
  const { schema, table, key, stamp, item: id, row = null, moved } = version;
  if (typeof table !== 'string' || typeof key !== 'string' || typeof id !== 'string')
    throw new Error('no row');
  if (!Number.isSafeInteger(stamp) || !Number.isInteger(schema) || typeof moved !== 'boolean')
    throw new Error('no version of a row');
  return { schema: schema!, table, key, stamp: stamp!, item: id, row, moved };
}
