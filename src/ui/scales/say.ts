import type { Language } from '../messages.ts';

/** How sharps and flats are called where a note's name has a sign. */
const SIGNS: Readonly<Record<Language, { readonly sharp: string; readonly flat: string }>> = {
  en: { sharp: ' sharp', flat: ' flat' },
  de: { sharp: ' Kreuz', flat: ' Be' },
  es: { sharp: ' sostenido', flat: ' bemol' },
};

/**
 * Says a name aloud by a voice of the machine itself that speaks the language; voices that need a network are never used.
 * Nothing of the recorded counts can say letters and kinds of scales: `SpokenWord` holds the numbers of a count alone.
 */
const voiceHere = (language: Language): SpeechSynthesisVoice | null => {
  if (typeof speechSynthesis === 'undefined') return null;
  const speaks = ({ lang }: SpeechSynthesisVoice): boolean => lang.slice(0, 2).toLowerCase() === language;
  return speechSynthesis.getVoices().find((voice) => voice.localService && speaks(voice)) ?? null;
};

/** Whether there is a voice; voices may become known only a while after the page has opened. */
export function onVoices(language: Language, told: (there: boolean) => void): () => void {
  const look = (): void => told(voiceHere(language) !== null);
  look();
  if (typeof speechSynthesis === 'undefined') return () => undefined;
  speechSynthesis.addEventListener('voiceschanged', look);
  return () => speechSynthesis.removeEventListener('voiceschanged', look);
}

/** Says it, in place of what is being said; does nothing where there is no voice of the language. */
export function say(text: string, language: Language): void {
  const voice = voiceHere(language);
  if (!voice) return;
  const { sharp, flat } = SIGNS[language];
  const words = new SpeechSynthesisUtterance(text.replaceAll('♯', sharp).replaceAll('♭', flat));
  words.voice = voice;
  words.lang = voice.lang;
  words.rate = 0.9;
  speechSynthesis.cancel();
  speechSynthesis.speak(words);
}

export const hush = (): void => {
  if (typeof speechSynthesis !== 'undefined') speechSynthesis.cancel();
};
