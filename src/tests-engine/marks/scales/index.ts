/** What is told of a scale beside its mark: tempo, evenness and where, swing, loudness, one sentence. */
export { earSpreadMs } from './earSpread.ts';
export { scaleFacts } from './facts.ts';
export { placeAt } from './steps.ts';
export type {
  FactsOrder,
  Hesitation,
  ScaleAdvice,
  ScaleAdviceCode,
  ScaleFacts,
  ScalePlace,
} from './types.ts';
