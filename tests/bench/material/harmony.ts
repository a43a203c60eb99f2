import { chordClasses, functionOf, parseChord } from '../../../src/music/chords/index.ts';
import type { Cue, PracticeTest, TestKind } from '../../../src/music/score.ts';
import { backingCues, makeTest } from '../../../src/tests-engine/index.ts';
import { performedSec } from '../../../src/music/time.ts';
import { clash, meeting, sungNotes } from '../../../src/tests-engine/backing/harmony/fit.ts';
import { isBluesy } from '../../../src/tests-engine/backing/harmony/palette.ts';
import { grooveNamed } from '../../../src/tests-engine/backing/arrange/grooves.ts';
import { keyClasses } from '../../../src/tests-engine/backing/scale.ts';
import { parallels } from '../../../src/tests-engine/backing/arrange/voices.ts';

type Pitched = Extract<Cue, { type: 'note' }>;
const isPitched = (cue: Cue): cue is Pitched => cue.type === 'note';

/** Seconds in which chords sound, and of those the seconds in which the third of the chord sounds too. */
function thirds(test: PracticeTest, cues: readonly Cue[]): readonly [number, number] {
  let [playing, third] = [0, 0];
  const notes = cues.filter(isPitched);
  for (const { startTicks, durationTicks, symbol } of test.backing!.chords) {
    const chord = parseChord(symbol)!;
    const [root, ...rest] = chordClasses(chord);
    const thirdPc = rest.find((pc) => [3, 4].includes((pc - root! + 12) % 12));
    const from = performedSec(startTicks, test);
    const to = performedSec(startTicks + durationTicks, test);
    for (let at = from + 0.005; at < to; at += 0.01) {
      const now = notes.filter((c) => c.atSec <= at && c.atSec + c.durationSec > at);
      if (!now.some((c) => c.voice !== 'bass')) continue;
      playing++;
      if (now.some((c) => c.midi % 12 === thirdPc)) third++;
    }
  }
  return [playing, third];
}

/** Counts of one level. */
function count(kind: TestKind, level: number, seeds: readonly number[]) {
  const sum = {
    tests: 0, twoChords: 0, chords: 0, playing: 0, third: 0, cadence: 0,
    strong: 0, chordTone: 0, resolved: 0, blue: 0,
    notes: 0, 'minor ninth': 0, 'cross-relation': 0, 'major seventh': 0,
    changes: 0, parallels: 0, inner: 0, leaps: 0,
  }; // prettier-ignore
  const styles = new Map<string, [playing: number, third: number]>();
  for (const seed of seeds) {
    const test = makeTest({ kind, level, seed, instrument: seed % 2 ? 'bass' : 'guitar' });
    const { chords } = test.backing!;
    const { tonic, mode } = keyClasses(test.key);
    const blues =
      (grooveNamed(test.style).fullness === 'blues' && isBluesy(test.key.scale)) ||
      test.key.scale === 'blues';
    sum.tests++;
    sum.chords += chords.length;
    if (new Set(chords.map((c) => parseChord(c.symbol)!.root)).size >= 2) sum.twoChords++;
    const functions = chords.map((c) => functionOf(parseChord(c.symbol)!, test.key.tonic, mode === 'minor'));
    if (functions.length > 1 && functions.at(-1) === 'tonic' && functions.at(-2) !== 'tonic') sum.cadence++;
    const cues = backingCues(test, 0);
    const [playing, third] = thirds(test, cues);
    sum.playing += playing;
    sum.third += third;
    const [played, sounded] = styles.get(test.style) ?? [0, 0];
    styles.set(test.style, [played + playing, sounded + third]);
    const at = (tick: number) =>
      chordClasses(parseChord(chords.findLast((c) => c.startTicks <= tick)!.symbol)!);
    if (kind === 'melody')
      for (const note of sungNotes(test.phrase)) {
        sum.notes++;
        const met = meeting(note, at(note.start), at(note.end), blues, tonic);
        const bad = clash(note, at(note.start), at(note.start)[0]!, met);
        if (bad) sum[bad]++;
        if (!note.strong) continue;
        sum.strong++;
        if (met === 'chord tone') sum.chordTone++;
        else if (met === 'resolved') sum.resolved++;
        else if (met === 'blue') sum.blue++;
      }
    // Voice leading, from what sounds: the three upper notes of each chord's first stroke.
    const struck = chords.map(({ startTicks, durationTicks }) => {
      const from = performedSec(startTicks, test) - 1e-6;
      const to = performedSec(startTicks + durationTicks, test) - 1e-6;
      const comp = cues
        .filter(isPitched)
        .filter((c) => c.voice !== 'bass' && c.atSec >= from && c.atSec < to);
      const first = comp[0]?.atSec;
      const low = cues.filter(isPitched).find((c) => c.voice === 'bass' && c.atSec >= from && c.atSec < to);
      // An organ may hold the notes that another strikes.
      const upper = [...new Set(comp.filter((c) => c.atSec === first).map((c) => c.midi as number))]
        .sort((a, b) => a - b)
        .slice(-3);
      return { upper, low: low?.midi ?? null };
    });
    for (let i = 1; i < struck.length; i++) {
      const [a, b] = [struck[i - 1]!, struck[i]!];
      if (a.upper.length !== 3 || b.upper.length !== 3) continue;
      sum.changes++;
      const withBass = a.low !== null && b.low !== null;
      sum.parallels += parallels(
        withBass ? [a.low!, ...a.upper] : a.upper,
        withBass ? [b.low!, ...b.upper] : b.upper,
      );
      sum.inner++;
      if (Math.abs(b.upper[1]! - a.upper[1]!) > 4) sum.leaps++;
    }
  }
  return { ...sum, styles };
}

/** Of one level and kind, %: tests with two roots or more, and the time in which the third sounds. */
export interface Harmonised {
  readonly twoChords: number;
  readonly third: number;
}

/** What the backings' harmony is, by level, over fresh seeds; both kinds, ten levels each. */
export function harmony(tests: number, from: number): readonly Harmonised[] {
  const all: Harmonised[] = [];
  const seeds = Array.from({ length: tests }, (_, i) => (from + i * 7919) >>> 0);
  const pc = (a: number, b: number): string => (b === 0 ? '–' : ((100 * a) / b).toFixed(1));
  for (const kind of ['melody', 'rhythm'] as const) {
    const styles = new Map<string, [playing: number, third: number]>();
    console.log(
      `\nharmony, ${kind} (${tests} tests a level from seed ${from}; shares in %): level  chords a phrase  two or more roots  third sounds  cadence home | stressed notes: in the chord  resolved  blue  else | clashes of notes: minor ninth  cross-relation  major seventh | changes: parallels  inner leaps`,
    );
    for (let level = 1; level <= 10; level++) {
      const c = count(kind, level, seeds);
      const rest = c.strong - c.chordTone - c.resolved - c.blue;
      console.log(
        [
          String(level).padStart(3), (c.chords / c.tests).toFixed(2), pc(c.twoChords, c.tests), pc(c.third, c.playing), pc(c.cadence, c.tests),
          '|', pc(c.chordTone, c.strong), pc(c.resolved, c.strong), pc(c.blue, c.strong), pc(rest, c.strong),
          '|', pc(c['minor ninth'], c.notes), pc(c['cross-relation'], c.notes), pc(c['major seventh'], c.notes),
          '|', pc(c.parallels, c.changes), pc(c.leaps, c.inner),
        ].map((x) => String(x).padStart(6)).join(' '),
      ); // prettier-ignore
      all.push({ twoChords: (100 * c.twoChords) / c.tests, third: (100 * c.third) / c.playing });
      for (const [style, [playing, third]] of c.styles) {
        const [played, sounded] = styles.get(style) ?? [0, 0];
        styles.set(style, [played + playing, sounded + third]);
      }
    }
    console.log(
      `third sounds, by style: ${[...styles].map(([style, [playing, third]]) => `${style} ${pc(third, playing)}`).join(' · ')}`,
    );
  }
  return all;
}
