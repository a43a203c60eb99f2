import * as v from 'valibot';

/**
 * What a device of a studio and its server say to each other: one schema a body, used by both. Ids are 128 random bits
 * as 32 hex digits; what is encrypted, keys and secrets are base64url without padding. The server can read nothing of
 * what stands in `body`, `parcel`, `wrapped`, `sealed` and `label`.
 */
export const PROTOCOL = 1;

/** Sent as `X-Studio-Knows` by apps that understand what is said of the sound of takes: earlier ones are told nothing. */
export const KNOWS_SOUND = 'sound';

/** The interface lies under this path of the app's own origin. */
export const API = '/studio/v1';

export const LIMITS = {
  /** Bytes of one encrypted row: homework of a hundred tests packs to some 30 kB, a take to 2 kB, half a minute of its sound to 250 kB. */
  itemBytes: 400_000,
  /** Rows a push, and rows a page of a pull. */
  items: 500,
  /** Bytes of a whole request. */
  bodyBytes: 2_000_000,
  /** Encrypted bytes after which a page of a pull ends. */
  pageBytes: 1_000_000,
  /** Keys and envelopes in one request: a removal gives every student a new key. */
  keys: 20_000,
  /** Bytes of what an invitation carries: every key of one student, or of the studio, so far. */
  parcelBytes: 100_000,
  /** Bytes of one part of a take's sound before it is encrypted: with its frame it stays below `bodyBytes`. */
  soundPartBytes: 1_000_000,
  /** Parts of one: a recording of a piece lasts a quarter of an hour at most (`audio/render/checkSheet.ts`), some 15 MB. */
  soundParts: 20,
  /** Attempts that are asked for, or told, at once. */
  sounds: 500,
  /** How long an invitation holds, seconds. */
  inviteSec: [60, 30 * 86_400],
} as const;

/** Base64url of at most so many bytes. */
const blob = (bytes: number) =>
  v.pipe(v.string(), v.maxLength(Math.ceil((bytes * 4) / 3)), v.regex(/^[A-Za-z0-9_-]+$/));
export const id = v.pipe(v.string(), v.regex(/^[0-9a-f]{32}$/));
/** 32 random bytes. */
export const secret = v.pipe(v.string(), v.regex(/^[A-Za-z0-9_-]{43}$/));
const count = (most: number) => v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(most));

export const ROLES = ['teacher', 'student'] as const;
export type Role = (typeof ROLES)[number];
/** `shared`: a student's own devices may read it. `desk`: teachers alone. */
export const LANES = ['shared', 'desk'] as const;
export type Lane = (typeof LANES)[number];

/** One encrypted row on its way up. */
export const sentItem = v.strictObject({
  id,
  /** Whose it is; the studio's own id for what is nobody's. */
  scope: id,
  lane: v.picklist(LANES),
  keyId: id,
  body: blob(LIMITS.itemBytes),
});
export type SentItem = v.InferOutput<typeof sentItem>;

export const push = v.strictObject({
  /** Version of the records' schema by which the rows were written. */
  schema: v.pipe(count(1e6), v.minValue(1)),
  items: v.pipe(v.array(sentItem), v.maxLength(LIMITS.items)),
  /** Ids of rows that these take the place of for good. */
  drop: v.pipe(v.array(id), v.maxLength(LIMITS.items)),
});
export type Push = v.InferOutput<typeof push>;

export const pulledItem = v.strictObject({
  ...sentItem.entries,
  seq: count(Number.MAX_SAFE_INTEGER),
  /** Who sent it, as the server knows them by their token. */
  device: id,
  role: v.picklist(ROLES),
});
export type PulledItem = v.InferOutput<typeof pulledItem>;
export const page = v.strictObject({
  /** Another one than before: the server was set back to an older copy, and has to be told all again. */
  era: id,
  items: v.array(pulledItem),
  /** Students that were deleted. */
  gone: v.array(id),
  /** Where the next pull begins. */
  next: count(Number.MAX_SAFE_INTEGER),
  more: v.boolean(),
  /** Where the sound of takes goes to the studio: an id, another one each time that it is turned on. Null or absent: it does not. */
  sound: v.optional(v.nullable(id)),
});
export type Page = v.InferOutput<typeof page>;

/** A key as the server keeps it: wrapped by a studio key, or (a studio key itself) not at all. */
export const wrappedKey = v.strictObject({
  id,
  scope: id,
  wrappedBy: v.nullable(id),
  wrapped: v.nullable(blob(200)),
});
export type WrappedKey = v.InferOutput<typeof wrappedKey>;
/** A key sealed (HPKE) to one device. */
export const envelope = v.strictObject({ keyId: id, device: id, sealed: blob(400) });
export type Envelope = v.InferOutput<typeof envelope>;
const keyList = v.pipe(v.array(wrappedKey), v.maxLength(LIMITS.keys));
const envelopes = v.pipe(v.array(envelope), v.maxLength(LIMITS.keys));

export const newKeys = v.strictObject({ keys: keyList, envelopes });
export type NewKeys = v.InferOutput<typeof newKeys>;
export const keyRing = v.strictObject({
  /** Oldest first; of several that are in use, the last is for writing. */
  keys: v.array(v.strictObject({ ...wrappedKey.entries, retired: v.boolean() })),
  envelopes: v.array(envelope),
});
export type KeyRing = v.InferOutput<typeof keyRing>;

export const invite = v.strictObject({
  id,
  token: secret,
  role: v.picklist(ROLES),
  /** Whose device it will be; null for a teacher's. */
  student: v.nullable(id),
  parcel: blob(LIMITS.parcelBytes),
  expiresInSec: v.pipe(
    v.number(),
    v.integer(),
    v.minValue(LIMITS.inviteSec[0]),
    v.maxValue(LIMITS.inviteSec[1]),
  ),
});
export type Invite = v.InferOutput<typeof invite>;

export const join = v.strictObject({
  studio: id,
  invite: id,
  inviteToken: secret,
  device: v.strictObject({ id, token: secret, publicKey: blob(200) }),
});
export type Join = v.InferOutput<typeof join>;
export const joined = v.strictObject({
  role: v.picklist(ROLES),
  student: v.nullable(id),
  /** Null for the very first device, which makes the keys. */
  parcel: v.nullable(v.string()),
});
export type Joined = v.InferOutput<typeof joined>;

/** What a device says of itself once it holds the keys: its name (encrypted) and the proof that it holds them. */
export const me = v.strictObject({ label: blob(400), certificate: blob(200) });
export const device = v.strictObject({
  id,
  role: v.picklist(ROLES),
  student: v.nullable(id),
  publicKey: v.string(),
  label: v.nullable(v.string()),
  certificate: v.nullable(v.string()),
  createdAtMs: v.number(),
  lastSeenMs: v.number(),
  self: v.boolean(),
});
export type DeviceRow = v.InferOutput<typeof device>;
export const devices = v.strictObject({ devices: v.array(device) });

/** A part of the sound of a take, encrypted under the key of its student. */
export const soundPart = v.strictObject({
  student: id,
  attempt: id,
  keyId: id,
  /** Which part, from 0, of how many. */
  part: count(LIMITS.soundParts - 1),
  parts: v.pipe(count(LIMITS.soundParts), v.minValue(1)),
  body: blob(LIMITS.soundPartBytes + 100),
});
export type SoundPart = v.InferOutput<typeof soundPart>;
const attemptIds = v.pipe(v.array(id), v.maxLength(LIMITS.sounds));
export const soundsOf = v.strictObject({ student: id, attempts: attemptIds });
export type SoundsOf = v.InferOutput<typeof soundsOf>;
/** What of it the server has. `gone`: the attempt was deleted, nothing more is taken. */
export const soundHeld = v.strictObject({
  held: v.array(
    v.strictObject({
      attempt: id,
      parts: count(LIMITS.soundParts),
      here: v.array(count(LIMITS.soundParts)),
      gone: v.boolean(),
    }),
  ),
});
export type SoundHeld = v.InferOutput<typeof soundHeld>;
/** `ended`: the attempt is no more; else it belongs to another student. */
export const deletedSounds = v.strictObject({
  sounds: v.pipe(
    v.array(v.strictObject({ student: id, attempt: id, ended: v.boolean() })),
    v.maxLength(LIMITS.sounds),
  ),
});
export type DeletedSounds = v.InferOutput<typeof deletedSounds>;
export const soundSwitch = v.strictObject({ on: v.boolean() });
/** `mostBytes`: what the studio may hold; 0: no sound on this server. */
export const soundState = v.strictObject({
  ...{ on: v.boolean(), takes: count(1e9), bytes: count(1e15), mostBytes: count(1e15) },
});
export type SoundState = v.InferOutput<typeof soundState>;

/** Why a request was refused, and one sentence for a person. */
export const REFUSALS = [
  'malformed',
  'too-big',
  'too-often',
  'unknown-device',
  'student-gone',
  'not-allowed',
  'bad-invite',
  'old-key',
  'unknown-key',
  'devices-changed',
  'old-schema',
  'newer-protocol',
  'not-found',
  'full',
  'failed',
] as const;
export type RefusalCode = (typeof REFUSALS)[number];
export const refusal = v.object({ code: v.picklist(REFUSALS), sentence: v.string() });

/** Who may call what; whoever is not listed is refused. `anyone` needs no token. */
export const ROUTES = {
  'GET /health': ['anyone'],
  'POST /join': ['anyone'],
  'POST /me': ['teacher', 'student'],
  'GET /pull': ['teacher', 'student'],
  'POST /push': ['teacher', 'student'],
  'GET /keys': ['teacher', 'student'],
  'POST /keys': ['teacher'],
  'GET /devices': ['teacher'],
  'POST /devices/:id/remove': ['teacher'],
  'POST /invites': ['teacher'],
  'POST /invites/:id/withdraw': ['teacher'],
  'POST /students/:id/delete': ['teacher'],
  'GET /sound': ['teacher'],
  'POST /sound/switch': ['teacher'],
  'POST /sound/held': ['teacher', 'student'],
  'POST /sound': ['teacher', 'student'],
  'GET /sound/:id': ['teacher', 'student'],
  'POST /sound/deleted': ['teacher'],
} as const satisfies Record<string, readonly (Role | 'anyone')[]>;
export type Route = keyof typeof ROUTES;
