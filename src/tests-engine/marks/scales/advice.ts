import type { FactsOrder, ScaleAdvice, ScaleFacts } from './types.ts';

/** Thresholds of what is worth a word. Common practice, no source, but where a reason stands. */
/** Notes cost more than this of the mark: what was played comes before how. */
const NOTES_POINTS = 3;
/** Tempo beside the range asked, share: twice what is noticed at best (2.5 %: Friberg & Sundberg 1995). */
const TEMPO_SHARE = 0.05;
const DRIFT_PERCENT = 6;
/** Spread as a share of the shortest step, and at the least. */
const UNEVEN_SHARE = 0.08;
const UNEVEN_MS = 15;
/** Long to short under which swung quavers sound straight. */
const STRAIGHT_UNDER = 1.3;
const ACCENT_DB = 3;

/** The one sentence: what was played, then where the hands wait, then tempo, then evenness and loudness. */
export function scaleAdvice(order: FactsOrder, facts: Omit<ScaleFacts, 'advice'>): ScaleAdvice {
  const { mark, asked, target } = order;
  if (mark.lost.notes >= NOTES_POINTS || mark.lost.continuity > 0) return { code: 'notes', values: {} };
  const habit = facts.habits[0];
  const wait = [...facts.hesitations].sort((a, b) => b.ms - a.ms)[0];
  const place = habit && (!wait || habit.ms * habit.times >= wait.ms) ? habit : wait;
  if (place) {
    const at = place.place;
    if (at.kind === 'crossing')
      return { code: 'wait-crossing', values: { from: at.from, to: at.to, ms: place.ms } };
    if (at.kind === 'shift') return { code: 'wait-shift', values: { position: at.to, ms: place.ms } };
    if (at.kind === 'turn') return { code: 'wait-turn', values: { ms: place.ms } };
    return { code: 'wait-note', values: { note: (wait?.note ?? 0) + 1, ms: place.ms } };
  }
  if (facts.hurriedEndPercent !== null)
    return { code: 'hurried-end', values: { percent: facts.hurriedEndPercent } };
  const bpm = facts.tempoBpm;
  if (bpm !== null && bpm < asked[0] * (1 - TEMPO_SHARE))
    return { code: 'too-slow', values: { bpm: Math.round(bpm), asked: asked[0] } };
  if (bpm !== null && bpm > asked[1] * (1 + TEMPO_SHARE))
    return { code: 'too-fast', values: { bpm: Math.round(bpm), asked: asked[1] } };
  const drift = facts.driftPercent ?? 0;
  if (Math.abs(drift) >= DRIFT_PERCENT)
    return {
      code: drift > 0 ? 'speeding-up' : 'slowing-down',
      values: { percent: Math.abs(Math.round(drift)) },
    };
  const shortest = Math.min(...target.slice(1).map((note, i) => note.onsetSec - target[i]!.onsetSec));
  if (facts.spreadMs !== null && facts.spreadMs >= Math.max(UNEVEN_MS, UNEVEN_SHARE * shortest * 1000))
    return { code: 'uneven', values: { ms: Math.round(facts.spreadMs) } };
  if (facts.swingRatio !== null && facts.swingRatio < STRAIGHT_UNDER)
    return { code: 'straight', values: { ratio: Math.round(facts.swingRatio * 10) / 10 } };
  if (facts.crossingAccentDb !== null && facts.crossingAccentDb >= ACCENT_DB)
    return { code: 'accents', values: { dB: Math.round(facts.crossingAccentDb) } };
  return { code: 'even', values: {} };
}
