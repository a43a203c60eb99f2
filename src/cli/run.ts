import { UsageError, type Io } from './io.ts';

export const USAGE = `twobar make --kind melody|rhythm --level N --seed S [--instrument guitar|bass] [--count N] [--format json|musicxml|midi]
twobar make --kind reading|scale --level N --seed S [--instrument guitar|bass] [--count N] [--free] [--format json|musicxml|midi]
twobar make --kind improvising --level N --seed S [--instrument guitar|bass] [--count N] [--free]
twobar make --kind chords --seed S [--shapes open,barre,power,seventh,extended,slash,triad] [--how named|progression] [--length N] [--tempo BPM] [--voicing shape|any] [--driven] [--count N]
twobar make --sitting SITTING.json [--seed S] [--out FOLDER]
twobar sound TEST.json --out FILE.wav [--part whole|phrase|backing]
twobar hear TAKE.wav [--instrument guitar|bass] [--tuning NAME|MIDI,MIDI,…|any] [--backing REF.wav [--from SEC]] [--json]
twobar hear TAKE.wav --chords [--asked C,Am7,D/F#] [--driven] [--instrument guitar|bass] [--tuning NAME|any|MIDI,…] [--backing REF.wav [--from SEC]] [--json]
twobar mark --test TEST.json --take TAKE.wav [--start SEC] [--backing REF.wav [--from SEC]] [--json]
twobar mark --target NOTES.json --played NOTES.json [--clock backing|free] [--transposition none|octave|any] [--json]
twobar mark --pairs -
`;

type Command = (args: readonly string[], io: Io) => void | Promise<void>;
/** Each is fetched when it is asked for: a command starts without the others' libraries. */
const COMMANDS: Readonly<Record<string, () => Promise<Command>>> = {
  make: async () => (await import('./commands/make.ts')).make,
  sound: async () => (await import('./commands/sound.ts')).sound,
  hear: async () => (await import('./commands/hear.ts')).hear,
  mark: async () => (await import('./commands/mark.ts')).mark,
};

/** A name may hold what a terminal obeys, or what turns the order of signs about: it is shown as `\\x1b`. */
const printable = (text: string): string =>
  text.replace(/[\p{Cc}\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu, (sign) => {
    const code = sign.codePointAt(0)!;
    return code < 256 ? `\\x${code.toString(16).padStart(2, '0')}` : `\\u${code.toString(16)}`;
  });

/**
 * Runs one command.
 *
 * @returns 0, or 2 and the one sentence for standard error where the caller gave something that cannot be
 *   used. Anything else that is thrown is a fault of the program and is passed on.
 */
export async function run(args: readonly string[], io: Io): Promise<{ exit: 0 | 2; problem: string | null }> {
  const [name, ...rest] = args;
  try {
    if (name === '--help' || name === 'help') io.out(USAGE);
    else {
      const command = name === undefined || !Object.hasOwn(COMMANDS, name) ? null : COMMANDS[name]!;
      if (!command)
        throw new UsageError(
          `${name === undefined ? 'a command is missing' : `"${name}" is no command`}; there are ${Object.keys(COMMANDS).join(', ')}, and --help`,
        );
      await (
        await command()
      )(rest, io);
    }
    return { exit: 0, problem: null };
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    return { exit: 2, problem: `twobar: ${printable(error.message.replace(/\s*\n\s*/g, ' '))}` };
  }
}
