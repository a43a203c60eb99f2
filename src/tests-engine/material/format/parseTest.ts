import * as v from 'valibot';
import type { Phrase, PracticeTest } from '../../../music/score.ts';
import { barTicks } from '../../../music/metre.ts';
import { spelledScale } from '../theory/scale.ts';
import { spelledMidi } from '../theory/spelling.ts';
import { testSchema } from './schema.ts';

/** A JSON value that is not a test. `message` is one sentence naming what is wrong and where, and a remedy. */
export class TestFormatError extends Error {
  override readonly name = 'TestFormatError';
}

const REMEDY = 'make the test again or ask its sender for a fresh copy';

function shown(value: unknown): string {
  if (typeof value === 'number' || value === null || value === undefined) return String(value);
  const text = JSON.stringify(value) ?? typeof value;
  return text.length > 40 ? `${text.slice(0, 37)}...` : text;
}

function wrong(where: string, what: string): TestFormatError {
  return new TestFormatError(`This is not a test Twobar can read: ${where} ${what}; ${REMEDY}.`);
}

function checkPhrase(phrase: Phrase, tuning: readonly number[], where: string): void {
  const { metre, bars, notes } = phrase;
  const units = metre.grouping.reduce((sum, group) => sum + group, 0);
  if (units !== metre.beats)
    throw wrong(`${where}.metre.grouping`, `adds up to ${units}, not to ${metre.beats}`);
  const end = barTicks(metre) * bars;
  let free = 0;
  notes.forEach((note, i) => {
    const here = `${where}.notes[${i}]`;
    if (note.startTicks < free) throw wrong(here, 'begins before the note in front of it has ended');
    free = note.startTicks + note.durationTicks;
    if (free > end) throw wrong(here, `lasts beyond the last bar line (tick ${end})`);
    if (note.string > tuning.length) throw wrong(here, `is on string ${note.string} of ${tuning.length}`);
    const sounds = tuning[tuning.length - note.string]! + note.fret;
    if (sounds !== note.midi)
      throw wrong(
        here,
        `has MIDI number ${note.midi}, but string ${note.string}, fret ${note.fret} sounds ${sounds}`,
      );
    if (spelledMidi(note.spelling) !== note.midi)
      throw wrong(here, `is spelled ${note.spelling}, which is not MIDI number ${note.midi}`);
  });
}

/**
 * Checks an unknown value and hands it back as a test.
 * @throws TestFormatError when anything is missing, unknown, out of range or contradicts itself.
 */
export function parseTest(json: unknown): PracticeTest {
  if (typeof json !== 'object' || json === null || Array.isArray(json))
    throw new TestFormatError(
      `This is not a test Twobar can read: it is ${shown(json)}, not an object; ${REMEDY}.`,
    );
  const { version } = json as { version?: unknown };
  if (version !== 1)
    throw new TestFormatError(
      typeof version === 'number' && version > 1
        ? `This test has version ${version}, this Twobar reads version 1; update Twobar or ask for an older export.`
        : `This is not a test Twobar can read: version is ${shown(version)}, not 1; ${REMEDY}.`,
    );
  const parsed = v.safeParse(testSchema, json, { abortEarly: true });
  if (!parsed.success) {
    const issue = parsed.issues[0];
    const path = v.getDotPath(issue) ?? 'the whole';
    if (issue.expected === 'never') throw wrong(path, 'is a key that no test has');
    throw wrong(path, `is ${shown(issue.input)}, expected ${issue.expected ?? issue.message}`);
  }
  const test = parsed.output as unknown as PracticeTest;
  try {
    spelledScale(test.key);
  } catch {
    throw wrong('key', `is ${shown(`${test.key.tonic} ${test.key.scale}`)}, which is no key`);
  }
  checkPhrase(test.phrase, test.tuning, 'phrase');
  if (test.kind === 'melody' && test.question) throw wrong('question', 'belongs to rhythm tests only');
  if (test.question) {
    checkPhrase(test.question.other, test.tuning, 'question.other');
    const length = ({ metre, bars }: Phrase): number => barTicks(metre) * bars;
    if (length(test.question.other) !== length(test.phrase))
      throw wrong('question.other', 'is not as long as the phrase');
  }
  return test;
}
