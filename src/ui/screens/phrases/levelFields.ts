import { LevelFormatError, parseLevel, type LevelParameters } from '../../../tests-engine/index.ts';
import { t } from '../../messages.ts';

/** A level as it stands in the form: numbers and lists as they are typed. */
export interface LevelFields {
  name: string;
  reason: string;
  scales: { scale: string; tonics: string }[];
  ranges: string;
  positions: string;
  home: string;
  maxLeap: string;
  leapsPerBar: string;
  maxStringCross: string;
  firstDegrees: string[];
  lastDegrees: string[];
  approachNotes: string;
  melodyFigures: string[];
  rhythmFigures: string[];
  tiesOverBars: 'yes' | 'no';
  metres: MetreFields[];
  tempo: string;
  swing: string;
  practicePhrases: string;
  leastTicks: string;
  moves: '1' | '2';
  melodyBand: string;
  rhythmBand: string;
}

export interface MetreFields {
  metre: string;
  melodyBars: '2' | '4';
  rhythmBars: '2' | '4';
  melodyNotes: string;
  melodyLength: string;
  rhythmNotes: string;
  styles: string[];
}

/** A field that holds no such number; `message` is one sentence that names the field. */
export class FieldError extends Error {
  override readonly name = 'FieldError';
}

const pair = ([from, to]: readonly number[]): string => `${from} to ${to}`;

/** A level as the form shows it. */
export const fieldsOf = (level: LevelParameters): LevelFields => ({
  name: level.name,
  reason: level.reason,
  scales: level.scales.map(({ scale, tonics }) => ({ scale, tonics: tonics.join(' ') })),
  ranges: level.ranges.map(pair).join(', '),
  positions: pair(level.positions),
  home: level.home ? pair([level.home.highestFret, level.home.percent]) : '',
  maxLeap: String(level.maxLeap),
  leapsPerBar: String(level.leapsPerBar),
  maxStringCross: String(level.maxStringCross),
  firstDegrees: level.firstDegrees.map(String),
  lastDegrees: level.lastDegrees.map(String),
  approachNotes: String(level.approachNotes),
  melodyFigures: [...level.melodyFigures],
  rhythmFigures: [...level.rhythmFigures],
  tiesOverBars: level.tiesOverBars ? 'yes' : 'no',
  metres: level.metres.map((at) => ({
    metre: at.metre,
    melodyBars: at.melodyBars === 4 ? '4' : '2',
    rhythmBars: at.rhythmBars === 4 ? '4' : '2',
    melodyNotes: pair(at.melodyNotes),
    melodyLength: at.melodyLength ? pair(at.melodyLength) : '',
    rhythmNotes: pair(at.rhythmNotes),
    styles: [...at.styles],
  })),
  tempo: level.tempo.join(', '),
  swing: level.swing.map((share) => Math.round(share * 1e4) / 1e4).join(', '),
  practicePhrases: String(level.practicePhrases),
  leastTicks: String(level.question.leastTicks),
  moves: level.question.moves === 2 ? '2' : '1',
  melodyBand: level.melodyBand ? pair(level.melodyBand) : '',
  rhythmBand: level.rhythmBand ? pair(level.rhythmBand) : '',
});

/**
 * The numbers of a field, in order; words and commas between them do not matter.
 * @param count how many there must be; null: one or more.
 */
function numbers(what: string, text: string, count: number | null): number[] {
  const plain = text.replace(/\bto\b|\bby\b|…|;/g, ' ').replace(/,(?=\s|$)/g, ' ');
  const parts = plain.split(/\s+/).filter((part) => part !== '');
  const values = parts.map(Number);
  if (
    values.length === 0 ||
    values.some((value) => !Number.isFinite(value)) ||
    (count !== null && values.length !== count)
  )
    throw new FieldError(t('levels.number', { what }));
  return values;
}

const one = (what: string, text: string): number => numbers(what, text, 1)[0]!;

function pairs(what: string, text: string): number[][] {
  const values = numbers(what, text, null);
  if (values.length % 2 === 1) throw new FieldError(t('levels.number', { what }));
  return values.flatMap((value, i) => (i % 2 === 0 ? [[value, values[i + 1]!]] : []));
}

const band = (what: string, text: string): number[] | null =>
  text.trim() === '' ? null : numbers(what, text, 2);

/** Swing is shown with four places; two thirds means two thirds. */
const exactSwing = (share: number): number => (Math.abs(share - 2 / 3) < 5e-3 ? 2 / 3 : share);

/** The label of the field that a path of a level ends in: "metres.0.melodyNotes.1". */
function labelAt(path: string): string | null {
  const parts = path.split('.');
  const name = parts.filter((part) => !/^\d+$/.test(part)).at(-1);
  const number = Number(parts[1] ?? 0) + 1;
  switch (name) {
    case 'name':
    case 'reason':
    case 'ranges':
    case 'positions':
    case 'home':
    case 'maxLeap':
    case 'leapsPerBar':
    case 'maxStringCross':
    case 'firstDegrees':
    case 'lastDegrees':
    case 'approachNotes':
    case 'melodyFigures':
    case 'rhythmFigures':
    case 'melodyNotes':
    case 'melodyLength':
    case 'rhythmNotes':
    case 'tempo':
    case 'swing':
    case 'practicePhrases':
    case 'leastTicks':
    case 'melodyBand':
    case 'rhythmBand':
      return t(`levels.${name}`);
    case 'tonics':
    case 'styles':
      return t(`levels.${name}`, { number });
    default:
      return null;
  }
}

/** What `parseLevel` refuses, said of the form's field: it names its own keys and the checker's words. */
function inWords(message: string): string {
  const parts = /: (\S+) is not right: (.*?)\.?$/.exec(message);
  const what = parts && labelAt(parts[1]!);
  if (!parts || !what) return message;
  const why = parts[2]!;
  if (why.startsWith('Invalid length') || why.startsWith('Invalid key'))
    return t('levels.field.empty', { what });
  if (why.startsWith('Invalid integer')) return t('levels.field.whole', { what });
  const [, sign, limit] = /Expected (<=|>=)(\S+)/.exec(why) ?? [];
  if (sign && limit) return t(sign === '<=' ? 'levels.field.most' : 'levels.field.least', { what, limit });
  return t('levels.field.other', { what, why });
}

/**
 * The level that a form holds.
 * @throws FieldError, one sentence naming the field, for what is missing, mistyped or what no level may hold.
 */
export function levelOf(form: LevelFields): LevelParameters {
  try {
    return parsed(form);
  } catch (error) {
    if (error instanceof LevelFormatError) throw new FieldError(inWords(error.message), { cause: error });
    throw error;
  }
}

/** Fewest and most notes of a whole melody; nothing where the field is empty. */
function lengthIn(text: string): { melodyLength?: readonly number[] } {
  const given = band(t('levels.melodyLength'), text);
  return given ? { melodyLength: given } : {};
}

/** Where the hand is at home; nothing where the field is empty. */
function home(text: string): Pick<LevelParameters, 'home'> {
  const given = band(t('levels.home'), text);
  return given ? { home: { highestFret: given[0]!, percent: given[1]! } } : {};
}

function parsed(form: LevelFields): LevelParameters {
  return parseLevel({
    name: form.name.trim(),
    reason: form.reason.trim(),
    scales: form.scales.map(({ scale, tonics }) => ({
      scale,
      tonics: tonics.split(/[\s,]+/).filter((tonic) => tonic !== ''),
    })),
    ranges: pairs(t('levels.ranges'), form.ranges),
    positions: numbers(t('levels.positions'), form.positions, 2),
    ...home(form.home),
    maxLeap: one(t('levels.maxLeap'), form.maxLeap),
    leapsPerBar: one(t('levels.leapsPerBar'), form.leapsPerBar),
    maxStringCross: one(t('levels.maxStringCross'), form.maxStringCross),
    firstDegrees: form.firstDegrees.map(Number),
    lastDegrees: form.lastDegrees.map(Number),
    approachNotes: one(t('levels.approachNotes'), form.approachNotes),
    melodyFigures: [...form.melodyFigures],
    rhythmFigures: [...form.rhythmFigures],
    tiesOverBars: form.tiesOverBars === 'yes',
    metres: form.metres.map((at) => ({
      metre: at.metre,
      melodyBars: Number(at.melodyBars),
      rhythmBars: Number(at.rhythmBars),
      melodyNotes: numbers(t('levels.melodyNotes'), at.melodyNotes, 2),
      ...lengthIn(at.melodyLength),
      rhythmNotes: numbers(t('levels.rhythmNotes'), at.rhythmNotes, 2),
      styles: [...at.styles],
    })),
    tempo: numbers(t('levels.tempo'), form.tempo, 3),
    swing: numbers(t('levels.swing'), form.swing, null).map(exactSwing),
    practicePhrases: one(t('levels.practicePhrases'), form.practicePhrases),
    question: { leastTicks: one(t('levels.leastTicks'), form.leastTicks), moves: Number(form.moves) },
    melodyBand: band(t('levels.melodyBand'), form.melodyBand),
    rhythmBand: band(t('levels.rhythmBand'), form.rhythmBand),
  });
}
