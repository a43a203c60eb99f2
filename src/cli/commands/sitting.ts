import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { testToMusicXml } from '../../exchange/index.ts';
import type { SittingSetup } from '../../music/sitting.ts';
import { written } from '../../music/task.ts';
import { itemsAt, parseSetup, type Item } from '../../tests-engine/index.ts';
import { readJsonFile } from '../files.ts';
import { given, type Io } from '../io.ts';
import { Options } from '../options.ts';
import { writeBytes } from '../write.ts';
import { questionLine } from './askedWords.ts';

const HIGHEST_SEED = 0xffffffff;

/** What a station asks for; of a choice, both sides. */
interface Material {
  readonly station: number;
  readonly what: string;
  readonly choice: 'reading' | 'improvising' | null;
  readonly items: readonly Item[];
}

function materialOf(setup: SittingSetup, seed: number): Material[] {
  return setup.stations.flatMap((station, at): Material[] => {
    const sides =
      station.what !== 'unseen'
        ? ([null] as const)
        : station.offers === 'both'
          ? (['reading', 'improvising'] as const)
          : ([station.offers] as const);
    return sides.map((choice) => ({
      ...{ station: at + 1, what: station.what, choice },
      items: itemsAt({ setup, seed }, at, { tries: 0, choice }),
    }));
  });
}

const escaped = (text: string): string => text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);

/** One thing that is asked, in a line for whoever asks it. */
function lineOf(item: Item): string {
  if (item.is === 'sound') return 'Level and balance';
  if (item.is === 'piece') return item.title;
  if (item.is === 'question') return questionLine(item.question);
  const { task } = item;
  if ('chords' in task) return task.chords.map(({ symbol }) => symbol).join(' · ');
  if ('chart' in task) return `${task.tempoBpm} bpm: ${task.chart.map(({ symbol }) => symbol).join(' | ')}`;
  if ('named' in task) {
    const { tonic, kind, octaves, direction, values } = task.named;
    return `${tonic} ${kind}, ${octaves} octave${octaves === 1 ? '' : 's'} ${direction}, ${values}, ${task.tempoBpm} bpm`;
  }
  return `${task.key.tonic} ${task.key.scale}, ${task.phrase.bars} bars, ${task.tempoBpm} bpm, seed ${task.seed ?? '–'}`;
}

/** The file of an item's notes; all questions are on one page. null where it has none. */
function notesOf({ station, what, choice }: Material, item: Item, i: number) {
  const asked = item.is === 'question' ? item.page : item.is === 'task' ? item.task : null;
  const task = asked && written(asked);
  if (!task || task.phrase.notes.length === 0) return null;
  const which = item.is === 'question' ? 'page' : i + 1;
  return { task, name: `${String(station).padStart(2, '0')}-${choice ?? what}-${which}.musicxml` };
}

/** What a station is called on the sheet. */
const NAMES: Readonly<Record<string, string>> = {
  sound: 'Sound check',
  pieces: 'Pieces, in the order that the candidate chooses',
  scales: 'Scales and arpeggios',
  chords: 'Chords',
  reading: 'Sight reading',
  improvising: 'Improvising',
  melody: 'Melody by ear',
  rhythm: 'Rhythm by ear',
  questions: 'Questions',
};

/** A page for whoever asks: every station with what it asks, to be printed on either paper. */
function sheetOf(setup: SittingSetup, seed: number, all: readonly Material[]): string {
  const rows = all.map((one) => {
    const { station, what, choice, items } = one;
    const lines = items.map((item, i) => {
      const file = notesOf(one, item, i)?.name;
      return `<li>${escaped(lineOf(item))}${file ? ` <small>${file}</small>` : ''}</li>`;
    });
    return `<section><h2>${station}. ${NAMES[choice ?? what]}</h2><ol>${lines.join('')}</ol></section>`;
  });
  return `<!doctype html><html lang="en"><meta charset="utf-8"><title>${escaped(setup.name)}</title>
<style>@page{margin:16mm}body{font:11pt Georgia,serif;max-width:178mm;margin:auto}section{break-inside:avoid}h2{font-size:12pt;margin:12pt 0 2pt}ol{margin:0}</style>
<h1>${escaped(setup.name)}</h1><p>${setup.instrument}, seed ${seed}</p>${rows.join('\n')}</html>
`;
}

/**
 * `make --sitting FILE`: all material of a sitting as JSON, a line a station; with `--out FOLDER` also every page of notes
 * as MusicXML and a sheet to be printed, in that folder, which is made where it is not there.
 */
export async function makeSitting(args: readonly string[], io: Io): Promise<void> {
  const options = new Options(args, { sitting: 'value', seed: 'value', out: 'value' });
  options.exactly();
  const path = options.required('sitting');
  const seed = options.whole('seed', 0, HIGHEST_SEED, 1);
  const json = await readJsonFile(path);
  const setup = given(path, () => parseSetup(json));
  const all = given(path, () => materialOf(setup, seed));
  const lines = all.map((one) => `${JSON.stringify(one)}\n`).join('');
  io.out(lines);
  const folder = options.text('out');
  if (folder === null) return;
  // Where it cannot be made, what is written into it says why.
  await mkdir(folder, { recursive: true }).catch(() => undefined);
  const put = (name: string, content: string): Promise<void> =>
    writeBytes(join(folder, name), new TextEncoder().encode(content), [path]);
  await put('sitting.jsonl', lines);
  await put('sitting.html', sheetOf(setup, seed, all));
  for (const one of all)
    for (const [i, item] of one.items.entries()) {
      const notes = notesOf(one, item, i);
      if (notes) await put(notes.name, testToMusicXml(notes.task));
    }
}
