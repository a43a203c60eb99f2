import { readdirSync, readFileSync } from 'node:fs';

/** What processes take of the machine; Linux alone tells. */
export interface Taken {
  /** Memory that is theirs alone, with their share of what several hold, MB. */
  readonly memoryMb: number;
  /** Time on a processor since they began, seconds. */
  readonly cpuSec: number;
}

/** Ticks a second of /proc (sysconf(_SC_CLK_TCK), 100 on every Linux of today). */
const TICKS = 100;

function stat(pid: number): { parent: number; cpuSec: number } | null {
  try {
    // The name in brackets may hold anything; the numbers come after the last bracket.
    const words = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ').at(-1)!.split(' ');
    // utime, stime, and the same of children that have ended: PostgreSQL has one for each connection.
    const ticks = words.slice(11, 15).reduce((sum, word) => sum + Number(word), 0);
    return { parent: Number(words[1]), cpuSec: ticks / TICKS };
  } catch {
    return null;
  }
}
function memoryMb(pid: number): number {
  try {
    return Number(/^Pss:\s+(\d+)/m.exec(readFileSync(`/proc/${pid}/smaps_rollup`, 'utf8'))?.[1] ?? 0) / 1024;
  } catch {
    return 0;
  }
}

/** A process and its children, those that have ended among them. */
export function taken(pid: number): Taken {
  const pids = readdirSync('/proc')
    .map(Number)
    .filter((one) => one > 0 && (one === pid || stat(one)?.parent === pid));
  return {
    memoryMb: pids.reduce((sum, one) => sum + memoryMb(one), 0),
    cpuSec: pids.reduce((sum, one) => sum + (stat(one)?.cpuSec ?? 0), 0),
  };
}
