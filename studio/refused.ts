import type { RefusalCode } from '../src/studio/wire.ts';

/** What is said, and with which status of HTTP; one sentence with a remedy where there is one. */
const SAID: Readonly<Record<RefusalCode, readonly [status: number, sentence: string]>> = {
  malformed: [400, 'The studio did not understand what this device sent. Load the app again.'],
  'too-big': [413, 'This is more than the studio takes at once.'],
  'too-often': [429, 'This device asks too often. It goes on by itself in a minute.'],
  'unknown-device': [401, 'This device is not in the studio (any more). A teacher can invite it.'],
  'student-gone': [410, 'This student was deleted from the studio.'],
  'not-allowed': [403, 'This device may not do that.'],
  'bad-invite': [403, 'This invitation was used, withdrawn or has run out. Ask for a new one.'],
  'old-key': [409, 'The studio has new keys. Fetch them and send again.'],
  'unknown-key': [409, 'The studio does not know this key.'],
  'devices-changed': [409, 'Devices came or went meanwhile. Look again and repeat.'],
  'old-schema': [
    426,
    'Other devices of the studio have a newer version of the app. Load the app again to get it.',
  ],
  'newer-protocol': [
    426,
    'The app and the studio’s server are of different versions. Load the app again; if that does not help, the server needs an update.',
  ],
  'not-found': [404, 'There is nothing here.'],
  full: [507, 'The studio is full.'],
  failed: [500, 'The studio’s server failed. Nothing is lost; it is tried again.'],
};

/** A request that is refused; nothing was changed by it. */
export class Refused extends Error {
  readonly code: RefusalCode;
  readonly status: number;
  constructor(code: RefusalCode) {
    super(SAID[code][1]);
    this.name = 'Refused';
    this.code = code;
    this.status = SAID[code][0];
  }
}
