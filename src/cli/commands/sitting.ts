import { join } from 'node:path';
import { testToMusicXml } from '../../exchange/index.ts';
import type { SittingSetup } from '../../music/sitting.ts';
import { written } from '../../music/task.ts';
import { itemsAt, parseSetup, type Item } from '../../tests-engine/index.ts';
import { readJsonFile } from '../files.ts';
import { given, type Io } from '../io.ts';
import { Options } from '../options.ts';
import { writeBytes } from '../write.ts';

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
  if (item.is === 'question') {
    const { asking, bar, note, about, choices, answer } = item.question;
    const where = [bar && `bar ${bar}`, note && `note ${note}`, about].filter(Boolean).join(', ');
    return `${asking}${where ? ` (${where})` : ''}: ${choices.join(' / ')} — ${answer}`;
  }
  const { task } = item;
  if ('chords' in task) return task.chords.map(({ symbol }) => symbol).join(' · ');
  if ('chart' in task) return `${task.tempoBpm} bpm: ${task.chart.map(({ symbol }) => symbol).join(' | ')}`;
  if ('named' in task) {
    const { tonic, kind, octaves, direction, values } = task.named;
    return `${tonic} ${kind}, ${octaves} octave${octaves === 1 ? '' : 's'} ${direction}, ${values}, ${task.tempoBpm} bpm`;
  }
  return `${task.key.tonic} ${task.key.scale}, ${task.phrase.bars} bars, ${task.tempoBpm} bpm, seed ${task.seed ?? '–'}`;
}

/** A page for whoever asks: every station with what it asks, to be printed on either paper. */
function sheetOf(setup: SittingSetup, seed: number, all: readonly Material[]): string {
  const rows = all.map(
    ({ station, what, choice, items }) =>
      `<section><h2>${station}. ${escaped(choice ?? what)}</h2><ol>${items
        .map((item) => `<li>${escaped(lineOf(item))}</li>`)
        .join('')}</ol></section>`,
  );
  return `<!doctype html><html lang="en"><meta charset="utf-8"><title>${escaped(setup.name)}</title>
<style>@page{margin:16mm}body{font:11pt Georgia,serif;max-width:178mm;margin:auto}section{break-inside:avoid}h2{font-size:12pt;margin:12pt 0 2pt}ol{margin:0}</style>
<h1>${escaped(setup.name)}</h1><p>${setup.instrument}, seed ${seed}</p>${rows.join('\n')}</html>
`;
}

/**
 * `make --sitting FILE`: all material of a sitting as JSON, a line a station; with `--out FOLDER` also every page of notes
 * as MusicXML and a sheet to be printed, in that folder.
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
  const put = (name: string, content: string): Promise<void> =>
    writeBytes(join(folder, name), new TextEncoder().encode(content), [path]);
  await put('sitting.jsonl', lines);
  await put('sitting.html', sheetOf(setup, seed, all));
  for (const { station, what, choice, items } of all)
    for (const [i, item] of items.entries()) {
      const task = item.is === 'task' ? written(item.task) : null;
      if (task && task.phrase.notes.length > 0)
        await put(
          `${String(station).padStart(2, '0')}-${choice ?? what}-${i + 1}.musicxml`,
          testToMusicXml(task),
        );
    }
}
