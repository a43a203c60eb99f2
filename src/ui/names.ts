import type { Instrument, Key } from '../music/score.ts';
import { fifthsOf, spelled } from '../notation/index.ts';
import { capoOf, tuningNamed } from '../tests-engine/index.ts';
import { fill, FIRST_TEXTS, ordinalRule, SCALES, spoken, t } from './firstMessages.ts';
import type { Language } from './firstMessages.ts';
import { nameIn, type NoteNames } from './noteNames.ts';
import { settings } from './settings/settings.svelte.ts';

const SHARPS = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
const FLATS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];

/** What is usual in a language. */
const USUAL: Readonly<Record<Language, NoteNames>> = { en: 'english', de: 'german', es: 'do' };

/** The note names that hold: those chosen, else the usual ones of the language. */
export const namesNow = (): NoteNames =>
  settings.now.noteNames === 'auto' ? USUAL[settings.now.language] : settings.now.noteNames;

/** "B#" as it is named now: "B♯", "His", "Si♯". */
export const noteName = (name: string): string => nameIn(namesNow(), name[0]!, name.slice(1));

/** The name of a sounding MIDI number, spelled as the key would: flats in flat keys. */
export function pitchName(midi: number, key: Key | null): string {
  const names = key && fifthsOf(key) < 0 ? FLATS : SHARPS;
  return noteName(names[((Math.round(midi) % 12) + 12) % 12]!);
}

/** "Bb3" to "B♭", "B", "Si♭". */
export function letterOf(spelling: string): string {
  const { letter, accidental } = spelled(spelling);
  return noteName(letter + accidental);
}

/** "A minor pentatonic", "a-Moll-Pentatonik", "La menor pentatónica". */
export function keyName({ tonic, scale }: Key): string {
  const name = noteName(tonic);
  const pattern = Object.hasOwn(SCALES, scale) ? SCALES[scale as keyof typeof SCALES] : `{tonic} ${scale}`;
  return fill(pattern, { tonic: name, small: name.toLowerCase() });
}

/** A noun that stands alone with a capital ("Guitar") as it is written within a sentence: German nouns keep theirs. */
export const withinSentence = (noun: string): string =>
  spoken().startsWith('de') ? noun : noun.toLowerCase();

/** 1st, 2nd, 3rd, 4th …: strings are numbered from the highest. */
export const ordinal = (n: number): string => t(`ordinal.${ordinalRule(n)}`, { n });

/** "dropped D", "standard, capo at fret 2": the name of a tuning by its id. */
export function tuningName(id: string, instrument: Instrument): string {
  const tuning = tuningNamed(id, instrument);
  const key = `tuning.${tuning.base}`;
  const name = Object.hasOwn(FIRST_TEXTS, key)
    ? fill(FIRST_TEXTS[key as keyof typeof FIRST_TEXTS], {})
    : tuning.name;
  const capo = capoOf(id);
  return capo === 0 ? name : t('tuning.capo', { name, fret: capo });
}
