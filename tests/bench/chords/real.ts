import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { hearStrums, judgeStrum } from '../../../src/dsp/chords/index.ts';
import type { ChordVerdict } from '../../../src/music/chords/index.ts';

/**
 * Recorded chords of Debian's sonic-pi-samples (CC0), annotated by hand: strokes by ear and wave, notes from the peaks of a 16,384-point
 * spectrum after each stroke (a note counts where its first partial and one more stand within 30 dB of the greatest). Both have echo put on
 * them; what is listed are the strokes, not their echoes.
 */
const FOLDER = '/usr/share/sonic-pi/samples';
const STROKES = [
  // Em9 broken from the top and left ringing: whole from its lowest string on.
  { file: 'guit_em9.flac', atSec: 1.235, notes: [40, 59, 66, 67, 74] },
  // Fifths on fifths: E3 B3 F#4.
  { file: 'guit_e_fifths.flac', atSec: 0.518, notes: [52, 59, 66] },
] as const;
const SHIFTS = [-2, -1, 1, 2] as const;
const RATE = 44_100;

/** As lines of a table: the chord as it was played, and asked for so many semitones off. null: not installed. */
export function realTable(): string[] | null {
  if (!STROKES.every(({ file }) => existsSync(`${FOLDER}/${file}`))) return null;
  const said = (file: string, atSec: number, notes: readonly number[]): ChordVerdict | 'not found' => {
    const bytes = execFileSync(
      'sox',
      [`${FOLDER}/${file}`, '-c', '1', '-r', String(RATE), '-e', 'float', '-b', '32', '-t', 'raw', '-'],
      { maxBuffer: 1e8 },
    );
    const samples = new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
    const strum = hearStrums(samples, RATE).find(({ firstSec }) => Math.abs(firstSec - atSec) < 0.05);
    return strum ? judgeStrum(strum, { shapes: [notes] }, { driven: false }).verdict : 'not found';
  };
  return [
    '',
    '### Recorded chords (two; echo on both)',
    '',
    `| file | as played | ${SHIFTS.map((by) => `${by} semitones`).join(' | ')} |`,
    `| --- | --- | ${SHIFTS.map(() => '---').join(' | ')} |`,
    ...STROKES.map(
      ({ file, atSec, notes }) =>
        `| ${file} | ${[0, ...SHIFTS]
          .map((by) =>
            said(
              file,
              atSec,
              notes.map((note) => note + by),
            ),
          )
          .join(' | ')} |`,
    ),
  ];
}
