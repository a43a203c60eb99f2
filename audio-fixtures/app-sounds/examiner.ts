/**
 * Makes src/ui/sitting/voice: `npx tsx audio-fixtures/app-sounds/examiner.ts`, from the repository's root; needs
 * ffmpeg, flite and espeak-ng (Debian's packages). English by the voice that speaks the counts (flite's rms), German
 * and Spanish by espeak-ng, as flite has no voice of them. `spoken.json` holds what each file says, word by word: the
 * page plays a file for these very words alone.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { CHART_SEC, PREPARE_SEC } from '../../src/tests-engine/index.ts';
import { LANGUAGES, speak, t, type Language } from '../../src/ui/messages.ts';
import { fileBytes } from './tools.ts';

const OUT = 'src/ui/sitting/voice';
const SENTENCES: Readonly<Record<string, () => string>> = {
  sound: () => t('sitting.say.sound'),
  pieces: () => t('sitting.say.pieces'),
  'pieces.next': () => t('sitting.say.pieces.next'),
  'pieces.one': () => t('sitting.say.pieces.one'),
  scales: () => t('sitting.say.scales'),
  chords: () => t('sitting.say.chords'),
  unseen: () => t('sitting.say.unseen'),
  reading: () => t('sitting.say.reading', { seconds: String(PREPARE_SEC) }),
  improvising: () => t('sitting.say.improvising', { seconds: String(CHART_SEC) }),
  melody: () => t('sitting.say.melody'),
  rhythm: () => t('sitting.say.rhythm'),
  questions: () => t('sitting.say.questions'),
  next: () => t('sitting.say.next'),
  break: () => t('sitting.say.break'),
} satisfies Record<string, () => string>;

const scratch = mkdtempSync(join(tmpdir(), 'twobar-voice-'));
const wav = join(scratch, 'said.wav');

const SAY: Readonly<Record<Language, (text: string) => [program: string, args: string[]]>> = {
  en: (text) => ['flite', ['-voice', 'rms', '-t', text, '-o', wav]],
  de: (text) => ['espeak-ng', ['-v', 'de', '-s', '145', '-p', '38', '-w', wav, text]],
  es: (text) => ['espeak-ng', ['-v', 'es', '-s', '150', '-p', '38', '-w', wav, text]],
};

/** 22.05 kHz and 32 kbit/s are more than these voices hold; −20 LUFS is about as loud as the spoken counts. */
const ENCODE = [
  '-af',
  'loudnorm=I=-20:TP=-2',
  '-ar',
  '22050',
  '-ac',
  '1',
  '-c:a',
  'libmp3lame',
  '-b:a',
  '32k',
];

const spoken: Record<string, Record<string, string>> = {};
for (const language of Object.keys(LANGUAGES) as Language[]) {
  await speak(language, 'quaver');
  mkdirSync(OUT, { recursive: true });
  let bytes = 0;
  spoken[language] = {};
  for (const [name, words] of Object.entries(SENTENCES)) {
    const text = words();
    const path = `${OUT}/examiner-${language}-${name}.mp3`;
    execFileSync(...SAY[language](text), { stdio: 'ignore' });
    execFileSync('ffmpeg', [
      '-v',
      'error',
      '-y',
      '-i',
      wav,
      ...ENCODE,
      '-map_metadata',
      '-1',
      '-bitexact',
      path,
    ]);
    bytes += fileBytes(path);
    spoken[language][name] = text;
  }
  console.log(`${language}: ${Object.keys(SENTENCES).length} sentences, ${bytes} bytes`);
}
rmSync(scratch, { recursive: true });
writeFileSync(`${OUT}/spoken.json`, `${JSON.stringify(spoken, null, 2)}\n`);
