import { GUITAR_LOWEST, HIGHEST, LOWEST } from './constants.ts';
import { relativeDb, scoreShape } from './evidence.ts';
import { dictionary, fitShape } from './fitShape.ts';
import { NETWORK } from './fitted/decision.ts';
import { fitGains } from './gains.ts';
import type { HeardStrum } from './heardStrum.ts';
import { readNetwork } from './network.ts';
import type { NoteEvidence } from '../../music/chords/heard.ts';

const network = readNetwork(NETWORK);
/** So many notes at most are taken to have been struck, so near to the loudest. */
const STRINGS = 6;
const WITHIN_DB = 22;

/**
 * What most likely sounds in a strum when nothing was asked for: notes likelier to sound than not, lowest first. For reading, not for
 * marking: without a target, octaves and notes hidden in others' partials are guesses.
 */
export function soundingNotes(strum: HeardStrum, lowest: number = GUITAR_LOWEST): NoteEvidence[] {
  const from = Math.max(LOWEST, lowest);
  const { db } = fitGains(strum.prepared.axis, dictionary, () => true, from);
  const loud: { midi: number; level: number }[] = [];
  for (let midi = from; midi <= HIGHEST; midi++) loud.push({ midi, level: db[midi - LOWEST]! });
  loud.sort((a, b) => b.level - a.level);
  const likely = loud
    .filter(({ level }) => level > -150 && level > loud[0]!.level - WITHIN_DB)
    .slice(0, STRINGS);
  if (likely.length === 0) return [];
  const asked = likely.map(({ midi }) => midi);
  const fit = fitShape(strum.prepared, asked, lowest);
  return Array.from(scoreShape(fit, network), (logOdds, i) => ({
    midi: fit.from + i,
    asked: false,
    logOdds,
    levelDb: relativeDb(fit, fit.from + i),
  })).filter(({ logOdds }) => logOdds > 0);
}
