import band from './assets/band.mp3?url';
import drums from './assets/drums.mp3?url';
import speech from './assets/speech.mp3?url';
import strings from './assets/strings.mp3?url';

/** Where the built app serves each sound file of the manifest; relative, so it works under any path. */
export const ASSET_URLS: Readonly<Record<string, string>> = { band, drums, speech, strings };
