import { judgeStrum, soundingNotes, type HeardStrum } from '../../dsp/index.ts';
import {
  chordClasses,
  parseChord,
  pitchClass,
  type AskedChord,
  type ChordFindings,
} from '../../music/chords/index.ts';
import { UsageError, type Io } from '../io.ts';
import { strumsOf, type Backing } from '../listen.ts';
import type { Options } from '../options.ts';
import { CLASS_NAMES, noteName, table } from '../tables.ts';

/** A chord by name: its tones in any voicing, the bass only where the name has one. */
function askedChord(name: string): AskedChord {
  const chord = parseChord(name);
  if (!chord) throw new UsageError(`"${name}" is no chord name; write for example C, F#m7 or D/F#`);
  const bass = chord.bass === null ? null : pitchClass(chord.bass);
  const classes = chordClasses(chord);
  return { classes: bass === null || classes.includes(bass) ? classes : [...classes, bass], bass };
}

/** `hear --chords`: strums with what sounds in them; with --asked, whether they are the chords asked for, in that order. */
export async function hearChords(
  path: string,
  { lowest, over }: { readonly lowest: number; readonly over: Backing | null },
  options: Options,
  io: Io,
): Promise<void> {
  const names = options.text('asked')?.split(',') ?? null;
  const asked = names?.map(askedChord) ?? null;
  const { strums } = await strumsOf(path, over);
  const rows = strums.map((strum, i) => ({
    ...timesOf(strum),
    sounding: soundingNotes(strum, lowest).map(({ midi, logOdds }) => ({ midi, logOdds })),
    // One chord is asked of every strum; several are asked one after another.
    ...(asked ? answer(strum, i, asked, names!) : {}),
  }));
  if (options.flag('json')) io.out(`${JSON.stringify({ strums: rows })}\n`);
  else io.out(strumTable(rows));

  function answer(strum: HeardStrum, i: number, chords: readonly AskedChord[], called: readonly string[]) {
    const which = chords.length === 1 ? 0 : i;
    const chord = chords[which];
    if (!chord) return { asked: null, judged: null };
    const judged = judgeStrum(strum, chord, { lowest, ...(options.flag('driven') ? { driven: true } : {}) });
    return { asked: called[which]!, judged };
  }
}

const timesOf = ({ firstSec, fullSec, untilSec, levelDb, prepared }: HeardStrum) => ({
  firstSec,
  fullSec,
  untilSec,
  levelDb,
  tuningCents: prepared.tuning.cents,
});

type Shown = ReturnType<typeof timesOf> & {
  readonly sounding: readonly { readonly midi: number; readonly logOdds: number }[];
  readonly asked?: string | null;
  readonly judged?: ReturnType<typeof judgeStrum> | null;
};

function found(findings: ChordFindings): string {
  const names = (classes: readonly number[]): string => classes.map((pc) => CLASS_NAMES[pc]!).join(' ');
  return [
    findings.missing.length > 0 ? `missing ${names(findings.missing)}` : '',
    findings.foreign.length > 0 ? `foreign ${names(findings.foreign)}` : '',
    findings.lowerNote === null ? '' : `${noteName(findings.lowerNote)} below the bass`,
    findings.bassSilent ? 'bass silent' : '',
  ]
    .filter(Boolean)
    .join(', ');
}

function strumTable(strums: readonly Shown[]): string {
  const withAsked = strums.some((s) => s.asked !== undefined);
  const rows = strums.map((s) => [
    s.firstSec.toFixed(3),
    (1000 * (s.fullSec - s.firstSec)).toFixed(0),
    s.levelDb.toFixed(1),
    s.tuningCents.toFixed(0),
    s.sounding.map(({ midi }) => noteName(midi)).join(' '),
    ...(withAsked
      ? [
          s.asked ?? '–',
          s.judged ? s.judged.verdict.replace('cannot-tell', "can't tell") : '–',
          s.judged ? (s.judged.doubt ?? found(s.judged.findings)) : '',
        ]
      : []),
  ]);
  const headings = ['strum s', 'full after ms', 'level dB', 'cents', 'sounds like'];
  return [
    table(withAsked ? [...headings, 'asked', 'verdict', 'heard'] : headings, rows),
    `${strums.length} ${strums.length === 1 ? 'strum' : 'strums'}; octaves and strings are guesses, doublings cannot be heard`,
    '',
  ].join('\n');
}
