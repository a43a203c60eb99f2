import type { AudioProblemCode } from './types.ts';

/** Something that stands in the way of sound; the screen has a text and a remedy for each code. */
export class AudioProblem extends Error {
  readonly code: AudioProblemCode;
  constructor(code: AudioProblemCode, cause?: unknown) {
    super(`audio problem: ${code}`, { cause });
    this.name = 'AudioProblem';
    this.code = code;
  }
}

/** `getUserMedia`'s error names (W3C Media Capture and Streams) in our words. */
const BY_NAME: Record<string, AudioProblemCode> = {
  NotAllowedError: 'permission-refused',
  SecurityError: 'permission-refused',
  NotFoundError: 'no-microphone',
  OverconstrainedError: 'no-microphone',
  NotReadableError: 'microphone-busy',
  AbortError: 'microphone-busy',
};

/** What went wrong when a microphone was asked for; an error of another kind is passed on as it is. */
export function microphoneProblem(error: unknown): unknown {
  const code = error instanceof Error ? BY_NAME[error.name] : undefined;
  return code ? new AudioProblem(code, error) : error;
}
