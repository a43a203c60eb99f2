import type { PageQuestion } from '../../tests-engine/index.ts';

/** Lengths by both of their English names. */
const VALUES: Readonly<Record<string, string>> = {
  '1920': 'semibreve (whole note)',
  '1440': 'dotted minim (dotted half note)',
  '960': 'minim (half note)',
  '720': 'dotted crotchet (dotted quarter note)',
  '480': 'crotchet (quarter note)',
  '360': 'dotted quaver (dotted eighth note)',
  '240': 'quaver (eighth note)',
  '180': 'dotted semiquaver (dotted sixteenth note)',
  '160': 'triplet quaver (triplet eighth note)',
  '120': 'semiquaver (sixteenth note)',
  '60': 'demisemiquaver (thirty-second note)',
};
const QUALITIES: Readonly<Record<string, string>> = {
  m: 'minor',
  M: 'major',
  P: 'perfect',
  A: 'augmented',
  d: 'diminished',
};
const SIZES = ['second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'octave'];
/** What words of tempo and signs mean. */
const MEANINGS: Readonly<Record<string, string>> = {
  largo: 'very slow and broad',
  adagio: 'slow',
  andante: 'at a walking pace',
  moderato: 'at a moderate pace',
  allegro: 'fast and lively',
  presto: 'very fast',
  p: 'soft',
  mp: 'fairly soft',
  mf: 'fairly loud',
  f: 'loud',
  louder: 'getting louder',
  softer: 'getting softer',
  staccato: 'short and detached',
  accent: 'stressed',
  tenuto: 'held for its full length',
};

function signature(fifths: number): string {
  if (fifths === 0) return 'no sharps and no flats';
  const [count, sign] = [Math.abs(fifths), fifths > 0 ? 'sharp' : 'flat'];
  return `${count} ${sign}${count === 1 ? '' : 's'}`;
}

/** A choice of a question, for whoever asks it. */
function choiceWords({ asking }: PageQuestion, token: string): string {
  switch (asking) {
    case 'value':
      return VALUES[token] ?? token;
    case 'interval': {
      const size = SIZES[Number(token.slice(1)) - 2] ?? token;
      return size === 'octave' ? size : `${QUALITIES[token[0]!]} ${size}`;
    }
    case 'signature':
      return signature(Number(token));
    case 'metre':
      return token.replace(' ', '/');
    case 'tempo':
    case 'sign':
      return MEANINGS[token] ?? token;
    case 'again':
      return `bar ${token}`;
    case 'name':
      return token;
  }
}

/** What is asked. */
function askedWords({ asking, bar, note, about }: PageQuestion): string {
  const at = `note ${note} of bar ${bar}`;
  switch (asking) {
    case 'value':
      return `How long is ${at}?`;
    case 'name':
      return `What is ${at} called?`;
    case 'interval':
      return `Which interval lies between ${at} and the note after it?`;
    case 'signature':
      return 'What is the key signature?';
    case 'metre':
      return 'What is the time signature?';
    case 'tempo':
    case 'sign':
      return `What does “${about}” mean?`;
    case 'again':
      return 'In which bar does the first idea come back?';
  }
}

/** A question on a page, its choices, and the answer at the end. */
export const questionLine = (question: PageQuestion): string =>
  `${askedWords(question)} ${question.choices.map((token) => choiceWords(question, token)).join(' / ')} — ${choiceWords(question, question.answer)}`;
