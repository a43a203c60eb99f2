import { writeTable } from '../../exchange/index.ts';
import type { Told } from './report.ts';
import { stationName } from './words.ts';

const HEAD = [
  'station',
  'name',
  'item',
  'kind',
  'machine_mark',
  'mark',
  'outcome',
  'examiner_mark',
  'answer_right',
  'faults',
  'weight',
  'remark',
];

/** A sitting for a spreadsheet, a line for each thing played; a station without any has a line of its own. */
export function sittingCsv({ report, taken }: Told): string {
  const cell = (value: string | number | null | undefined): string =>
    value === null || value === undefined ? '' : String(value);
  const rows = report.stations.flatMap(({ at, station, run }) => {
    const head = [String(at + 1), stationName(station, run)];
    const tail = [run.faults.map(({ why }) => why).join(' '), String(station.weight)];
    if (run.played.length === 0)
      return [[...head, '', station.what, '', '', '', '', '', ...tail, run.passed ? 'passed over' : '']];
    return run.played.map((one, i) => {
      const took = taken.get(one.attemptId ?? '');
      const newest = took?.overrides.at(-1);
      return [
        ...head,
        String(i + 1),
        one.kind,
        cell(one.mark),
        cell(newest?.mark ?? one.mark),
        cell(one.outcome),
        cell(one.own),
        one.right === null ? '' : one.right ? 'yes' : 'no',
        ...tail,
        cell(newest?.remark),
      ];
    });
  });
  return writeTable([HEAD, ...rows]);
}
