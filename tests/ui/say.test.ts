import { afterEach, describe, expect, it, vi } from 'vitest';
import { hush, onVoices, say } from '../../src/ui/scales/say.ts';

const voice = (lang: string, localService = true) => ({ lang, localService, name: lang });

/** A machine with these voices; what it was told to say, in order. */
function machine(voices: ReturnType<typeof voice>[]) {
  const said: { text: string; lang: string }[] = [];
  const heard = new Set<() => void>();
  vi.stubGlobal(
    'SpeechSynthesisUtterance',
    class {
      lang = '';
      readonly text: string;
      constructor(text: string) {
        this.text = text;
      }
    },
  );
  vi.stubGlobal('speechSynthesis', {
    getVoices: () => voices,
    speak: ({ text, lang }: { text: string; lang: string }) => void said.push({ text, lang }),
    cancel: () => void said.splice(0, said.length),
    addEventListener: (_: string, told: () => void) => void heard.add(told),
    removeEventListener: (_: string, told: () => void) => void heard.delete(told),
  });
  return { said, voices, change: () => heard.forEach((told) => told()) };
}
afterEach(() => void vi.unstubAllGlobals());

describe('a name that is said', () => {
  it('is said by a voice of the machine that speaks the language, its signs in words', () => {
    const { said } = machine([voice('en-GB', false), voice('de-DE'), voice('en-US'), voice('es-ES')]);
    say('F♯ harmonic minor, two octaves', 'en');
    expect(said).toEqual([{ text: 'F sharp harmonic minor, two octaves', lang: 'en-US' }]);
    say('Si♭ mayor', 'es');
    expect(said).toEqual([{ text: 'Si bemol mayor', lang: 'es-ES' }]);
    hush();
    expect(said).toEqual([]);
  });
  it('is not said by a voice of another language or of the network', () => {
    const { said, voices, change } = machine([voice('en-GB', false), voice('de-DE')]);
    const there: boolean[] = [];
    const end = onVoices('en', (one) => there.push(one));
    say('G major', 'en');
    expect(said).toEqual([]);
    voices.push(voice('en-GB'));
    change();
    expect(there).toEqual([false, true]);
    end();
    change();
    expect(there).toHaveLength(2);
  });
});
