/** Questions on a page of music: what a sign, a value, a name or an interval on it is. */
export {
  MOST_QUESTIONS,
  pageQuestions,
  type AskedPage,
  type Asking,
  type PageQuestion,
} from './pageQuestions.ts';
export { pageOfPiece } from './piecePage.ts';
export { TEMPO_WORDS, tempoWord, type TempoWord } from './tempo.ts';
export { intervalOf, VALUES, type ValueTicks } from './value.ts';
