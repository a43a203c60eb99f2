/**
 * Says a name aloud by a voice of the machine itself; voices that need a network are never used. Nothing of the
 * recorded counts can say letters and kinds of scales: `SpokenWord` holds the numbers of a count alone.
 */
const voiceHere = (): SpeechSynthesisVoice | null => {
  if (typeof speechSynthesis === 'undefined') return null;
  return (
    speechSynthesis.getVoices().find(({ localService, lang }) => localService && /^en\b/i.test(lang)) ?? null
  );
};

/** Whether there is a voice; voices may become known only a while after the page has opened. */
export function onVoices(told: (there: boolean) => void): () => void {
  const look = (): void => told(voiceHere() !== null);
  look();
  if (typeof speechSynthesis === 'undefined') return () => undefined;
  speechSynthesis.addEventListener('voiceschanged', look);
  return () => speechSynthesis.removeEventListener('voiceschanged', look);
}

/** Says it; does nothing where there is no voice. */
export function say(text: string): void {
  const voice = voiceHere();
  if (!voice) return;
  const words = new SpeechSynthesisUtterance(text.replaceAll('♯', ' sharp').replaceAll('♭', ' flat'));
  words.voice = voice;
  words.lang = voice.lang;
  words.rate = 0.9;
  speechSynthesis.cancel();
  speechSynthesis.speak(words);
}

export const hush = (): void => {
  if (typeof speechSynthesis !== 'undefined') speechSynthesis.cancel();
};
