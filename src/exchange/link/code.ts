import { deflateSync, strFromU8, strToU8 } from 'fflate';
import type { Task } from '../../music/task.ts';
import { ExchangeError } from '../error.ts';
import { inflated, TooMuch } from '../inflate.ts';
import { MOST } from '../limits.ts';
import { fromBase64Url, toBase64Url } from './base64url.ts';
import { packTask, unpackTask } from './pack.ts';

/**
 * First sign of a code: 1 for a test without chords, as from the beginning; 2 for one with them, which an earlier
 * Twobar would have opened without. Raise it whenever `pack` or a dictionary changes.
 */
const PLAIN = '1';
const WITH_CHORDS = '2';
/** A task that is no ear test (a page to read, a scale, chords), as it is. */
const ANY_TASK = '5';
/** First sign of a list's code: it cannot be taken for anything else that stands in a link. */
const LIST_VERSION = '3';
/** And of one that holds tasks other than ear tests, which an earlier Twobar could not read. */
const ANY_LIST_VERSION = '4';
/** And of one whose `about` says something that an earlier Twobar did not know of. */
const TELLING_LIST_VERSION = '6';
/** What a later Twobar may begin with. */
const isLater = (sign: string): boolean => sign > ANY_TASK && sign <= '9';
/**
 * What most tests have in common, for the compressor to point back to. Part of the format: a change makes
 * every earlier link unreadable, so it needs a new version.
 */
const DICTIONARY = strToU8(
  'chromatic locrian lydian phrygian harmonic minor dorian mixolydian blues natural minor major pentatonic latin reggae ballad funk shuffle rock ' +
    '[0,720,3,7,"F#3"],[0,120,4,5,"C#3"],[0,160,2,8,"Bb3"],[0,1920,1,"Eb4"],[240,240,2,5,"E4"],[0,960,3,5,"C4"],[0,480,3,7,"D4"],[0,240,4,7,"A3"],[0,240,4,5,"G3"],' +
    '[0,480,6,0,"E2"],[0,240,6,0,"E2"],[240,240,6,0,"E2"],[480,480,6,0,"E2"],[0,240,4,0,"E1"]]],"A"],"B"],2,20]' +
    '["rhythm","bass",[28,33,38,43],["melody","guitar",[40,45,50,55,59,64],2,80,"A","minor pentatonic",0.5,"rock",[4,4,[2,2],2,[[0,480,',
);
/** The chords' dictionary: the usual lengths and names, then all of the first. */
const CHORDS = strToU8(
  '["F#m7b5","Bbmaj7","Ebmaj7","Fmaj7","Cmaj7","F#m7","Bm7","Gm7","Cm7","Dm7","Em7","Am7","B7","D7","E7","A7","G7","C7",720,"Bb",3360,"F",1680,"C",1440,"D",1920,"Dm",960,"G",960,"Em",1920,"Am",960,"E",960,"A"]]',
);
const BOTH = new Uint8Array([...CHORDS, ...DICTIONARY]);
const dictionaryOf = (version: string): Uint8Array => (version === PLAIN ? DICTIONARY : BOTH);

/**
 * CRC-32 (ISO 3309), as in every zip file: tells a mistyped or cut link from a whole one. By hand: fflate keeps its own to
 * itself, and six lines need no package.
 */
function crc32(bytes: Uint8Array): number {
  let crc = 0xffff_ffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb8_8320 : 0);
  }
  return ~crc >>> 0;
}

/** Packed text behind its checksum, as a short text. */
function squeezed(content: Uint8Array, dictionary: Uint8Array): string {
  const body = deflateSync(content, { level: 9, dictionary });
  const whole = new Uint8Array(4 + body.length);
  new DataView(whole.buffer).setUint32(0, crc32(content));
  whole.set(body, 4);
  return toBase64Url(whole);
}

/**
 * What was packed, read as JSON.
 * @throws whatever decoding throws, RangeError where the checksum does not fit, TooMuch beyond `most` bytes.
 */
function unsqueezed(text: string, dictionary: Uint8Array, most: number): unknown {
  const whole = fromBase64Url(text);
  const told = new DataView(whole.buffer).getUint32(0);
  const content = inflated(whole.subarray(4), most, dictionary);
  if (crc32(content) !== told) throw new RangeError('the checksum does not fit');
  return JSON.parse(strFromU8(content)) as unknown;
}

const damaged = (cause?: unknown) => new ExchangeError('link-damaged', {}, { cause });
const tooLong = (cause?: unknown) => new ExchangeError('link-too-much', {}, { cause });
const newer = () => new ExchangeError('link-newer');
const refusal = (cause: unknown): ExchangeError =>
  cause instanceof ExchangeError ? cause : cause instanceof TooMuch ? tooLong(cause) : damaged(cause);

/** A whole task as a short text of letters, digits, `-` and `_`. */
export function wholeCode(task: Task): string {
  const version = !('question' in task) ? ANY_TASK : task.backing ? WITH_CHORDS : PLAIN;
  return version + squeezed(strToU8(JSON.stringify(packTask(task))), dictionaryOf(version));
}

/**
 * The very task that {@link wholeCode} was given. Check it with `checkTask` before use: a code can be
 * written by anyone.
 *
 * @throws ExchangeError, one sentence, for a code that is mistyped, cut short, of a later version or none.
 */
export function testFromWholeCode(code: string): Task {
  if (!/^[A-Za-z0-9_-]{8,}$/.test(code)) throw damaged();
  if (code.length > MOST.codeSigns) throw tooLong();
  const version = code[0]!;
  if (isLater(version)) throw newer();
  if (version !== PLAIN && version !== WITH_CHORDS && version !== ANY_TASK) throw damaged();
  try {
    return unpackTask(unsqueezed(code.slice(1), dictionaryOf(version), MOST.codeBytes));
  } catch (cause) {
    throw refusal(cause);
  }
}

/**
 * Several whole tasks as one text, packed together: what they have in common is written once. `about` goes along as it
 * is. @param telling it says more than the first readers of lists knew of: they then take it for a later version's
 */
export const listCode = (about: unknown, tasks: readonly Task[], telling = false): string =>
  (telling
    ? TELLING_LIST_VERSION
    : tasks.every((task) => 'question' in task)
      ? LIST_VERSION
      : ANY_LIST_VERSION) + squeezed(strToU8(JSON.stringify([about, tasks.map(packTask)])), BOTH);

/** Whether a text is a list's code of the present version, whole or not. */
export const isListCode = (code: string): boolean =>
  [LIST_VERSION, ANY_LIST_VERSION, TELLING_LIST_VERSION].includes(code[0] ?? '');

/**
 * What {@link listCode} was given. Check both before use: a code can be written by anyone.
 *
 * @throws ExchangeError, one sentence, for a code that is mistyped or cut short.
 */
export function fromListCode(code: string): { about: unknown; tests: readonly Task[] } {
  if (code.length > MOST.listSigns) throw tooLong();
  try {
    if (!isListCode(code)) throw new RangeError('no code of a list');
    const content = unsqueezed(code.slice(1), BOTH, MOST.listBytes);
    const [about, tests] = content as [unknown, unknown[]];
    if (tests.length > MOST.listTests) throw new TooMuch(`${tests.length} tests`);
    return { about, tests: tests.map(unpackTask) };
  } catch (cause) {
    throw refusal(cause);
  }
}

/** What stands before the code behind the `#`. */
const HASH_KEY = 'test=';

/**
 * A link to this test. Everything about it stands behind the `#`, which no browser sends to a server.
 *
 * @param address of the app; its own hash is dropped.
 */
export const testLink = (address: string, test: Task): string =>
  `${address.replace(/#.*$/, '')}#${HASH_KEY}${wholeCode(test)}`;

/** The test of an address's hash (with or without the `#`), or null where it names none. */
export function testFromHash(hash: string): Task | null {
  const plain = hash.replace(/^#/, '');
  return plain.startsWith(HASH_KEY) ? testFromWholeCode(plain.slice(HASH_KEY.length)) : null;
}
