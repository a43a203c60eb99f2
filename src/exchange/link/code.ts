import { deflateSync, inflateSync, strFromU8, strToU8 } from 'fflate';
import type { Task } from '../../music/task.ts';
import { ExchangeError } from '../error.ts';
import { packTask, unpackTask } from './pack.ts';

/**
 * First sign of a code: 1 for a test without chords, as from the beginning; 2 for one with them, which an earlier
 * Twobar would have opened without. Raise it whenever `pack` or a dictionary changes.
 */
const PLAIN = '1';
const WITH_CHORDS = '2';
/** A task that is no ear test (a page to read, a scale, chords), as it is. */
const ANY_TASK = '5';
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

/** A test of sixteen bars makes a code of some 3,000 signs; a browser takes far longer addresses. */
const MOST_SIGNS = 20_000;
/** A hundred such tests. */
const MOST_LIST_SIGNS = 2_000_000;

/** CRC-32 (ISO 3309), as in every zip file: tells a mistyped or cut link from a whole one. */
function crc32(bytes: Uint8Array): number {
  let crc = 0xffff_ffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb8_8320 : 0);
  }
  return ~crc >>> 0;
}

const toBase64Url = (bytes: Uint8Array): string =>
  btoa(String.fromCharCode(...bytes))
    .replaceAll('+', '-')
    .replaceAll('/', '_')
    .replaceAll('=', '');

function fromBase64Url(text: string): Uint8Array {
  const plain = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
  return Uint8Array.from(plain, (sign) => sign.charCodeAt(0));
}

/** Packed text behind its checksum, as a short text. */
function squeezed(content: Uint8Array, dictionary: Uint8Array): string {
  const body = deflateSync(content, { level: 9, dictionary });
  const whole = new Uint8Array(4 + body.length);
  new DataView(whole.buffer).setUint32(0, crc32(content));
  whole.set(body, 4);
  return toBase64Url(whole);
}

/** @throws whatever decoding throws, or RangeError where the checksum does not fit. */
function unsqueezed(text: string, dictionary: Uint8Array): Uint8Array {
  const whole = fromBase64Url(text);
  const told = new DataView(whole.buffer).getUint32(0);
  const content = inflateSync(whole.subarray(4), { dictionary });
  if (crc32(content) !== told) throw new RangeError('the checksum does not fit');
  return content;
}

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
  const damaged = (cause?: unknown) =>
    new ExchangeError('The link is incomplete or mistyped; copy the whole of it and try again.', { cause });
  if (!/^[A-Za-z0-9_-]{8,}$/.test(code) || code.length > MOST_SIGNS) throw damaged();
  const version = code[0]!;
  if (version !== PLAIN && version !== WITH_CHORDS && version !== ANY_TASK)
    throw new ExchangeError(
      'The link was made by another version of Twobar; update Twobar or ask for a fresh link.',
    );
  let content: Uint8Array;
  try {
    content = unsqueezed(code.slice(1), dictionaryOf(version));
  } catch (cause) {
    throw damaged(cause);
  }
  return unpackTask(JSON.parse(strFromU8(content)) as unknown);
}

/** First sign of a list's code: it cannot be taken for anything else that stands in a link. */
const LIST_VERSION = '3';
/** And of one that holds tasks other than ear tests, which an earlier Twobar could not read. */
const ANY_LIST_VERSION = '4';

/**
 * Several whole tasks as one text, packed together: what they have in common is written once. `about` goes along as it
 * is.
 */
export const listCode = (about: unknown, tasks: readonly Task[]): string =>
  (tasks.every((task) => 'question' in task) ? LIST_VERSION : ANY_LIST_VERSION) +
  squeezed(strToU8(JSON.stringify([about, tasks.map(packTask)])), BOTH);

/** Whether a text is a list's code of the present version, whole or not. */
export const isListCode = (code: string): boolean =>
  code.startsWith(LIST_VERSION) || code.startsWith(ANY_LIST_VERSION);

/**
 * What {@link listCode} was given. Check both before use: a code can be written by anyone.
 *
 * @throws ExchangeError, one sentence, for a code that is mistyped or cut short.
 */
export function fromListCode(code: string): { about: unknown; tests: readonly Task[] } {
  try {
    if (!isListCode(code) || code.length > MOST_LIST_SIGNS) throw new RangeError('no code of a list');
    const [about, tests] = JSON.parse(strFromU8(unsqueezed(code.slice(1), BOTH))) as [unknown, unknown[]];
    return { about, tests: tests.map(unpackTask) };
  } catch (cause) {
    throw new ExchangeError('The link is incomplete or mistyped; copy the whole of it and try again.', {
      cause,
    });
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
