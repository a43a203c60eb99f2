import type { Task } from '../../music/task.ts';
import type { Attempt, Homework, HomeworkOffer, KeptSitting, Remark, Store } from '../../store/index.ts';
import { wayOf, type Manner, type Way } from '../../tests-engine/index.ts';
import { record } from './record.svelte.ts';

const KEY = 'homework';
/** As many as a term brings; older ones that are done make room. */
const MOST = 12;

/** Homework as the student has it: what the link brought and what was played of it. */
export interface KeptHomework {
  readonly fragment: string;
  readonly offer: HomeworkOffer;
  /** Oldest first. */
  readonly attempts: readonly Attempt[];
  /** Sittings of it that are over, newest first. */
  readonly sat: readonly KeptSitting[];
  /** Indexes of the tests that have no marked attempt yet; after the last of them the sitting, where one is to be sat. */
  readonly left: readonly number[];
  /** What the teacher said: what came with the link, and of takes of this homework what came by itself; newest first. */
  readonly remarks: readonly Remark[];
}

/** The attempts of one of its tests. */
export function attemptsAt(
  { tests }: Pick<HomeworkOffer, 'tests'>,
  attempts: readonly Attempt[],
  index: number,
) {
  const set = tests[index];
  return set ? attempts.filter(({ test }) => wayOf(set, test) !== null) : [];
}

/** How one of its tests was played at its best: strict before relaxed, whole before a half, then the fastest. */
export interface BestWay extends Way {
  readonly manner: Manner;
}
export function bestWay(set: Task, attempts: readonly Attempt[]): BestWay | null {
  const ways = attempts.flatMap(({ test, manner, mark }) => {
    const way = mark.mark === null ? null : wayOf(set, test);
    return way ? [{ ...way, manner }] : [];
  });
  const order = (a: BestWay, b: BestWay): number =>
    Number(a.manner !== 'strict') - Number(b.manner !== 'strict') ||
    Number(a.half !== null) - Number(b.half !== null) ||
    b.tempoFactor - a.tempoFactor;
  return ways.sort(order)[0] ?? null;
}

type Asked = Pick<HomeworkOffer, 'tests'> & { readonly sitting?: Homework['sitting'] | null };
/** Its tests, and the sitting. */
export const partsOf = ({ tests, sitting }: Asked): number => tests.length + (sitting ? 1 : 0);
/** The tests without a marked attempt; after the last of them the sitting, where it was not sat. */
export const leftOf = (
  offer: Asked,
  attempts: readonly Attempt[],
  sat: readonly KeptSitting[] = [],
): number[] => [
  ...offer.tests.flatMap((_, index) =>
    attemptsAt(offer, attempts, index).some(({ mark }) => mark.mark !== null) ? [] : [index],
  ),
  ...(offer.sitting && sat.length === 0 ? [offer.tests.length] : []),
];

/** The homework of this machine's student, newest first. It stays until newer pushes it out, or it is put away. */
class Homeworks {
  list = $state.raw<readonly KeptHomework[]>([]);
  /** The newest of which something is left to do. */
  readonly open = $derived(this.list.find(({ left }) => left.length > 0) ?? null);

  /** Reads it again. What cannot be read any more is passed over. */
  look(): Promise<unknown> {
    return record.use(async (store) => {
      const { readHomework } = await import('../../store/index.ts');
      const found: KeptHomework[] = [];
      for (const fragment of await kept(store)) {
        const offer = await readHomework(fragment).catch(() => null);
        if (!offer) continue;
        const attempts = await store.attempts.ofHomework(offer.homeworkId);
        const sat = offer.sitting ? await store.sittings.ofHomework(offer.homeworkId) : [];
        const left = leftOf(offer, attempts, sat);
        found.push({
          fragment,
          offer,
          attempts,
          sat,
          left,
          remarks: await remarksOn(store, offer, attempts),
        });
      }
      this.list = found;
    });
  }

  /** Keeps what a link brought, before any earlier; the same homework again takes its own place. */
  async keep(fragment: string, { homeworkId }: HomeworkOffer): Promise<void> {
    const others = this.list.filter(({ offer }) => offer.homeworkId !== homeworkId);
    await this.#write([fragment, ...others.map((one) => one.fragment)].slice(0, MOST));
  }

  /** Out of the list, whether done or not; what was played of it stays in the record. */
  async putAway(homeworkId: string): Promise<void> {
    await this.#write(
      this.list.filter(({ offer }) => offer.homeworkId !== homeworkId).map(({ fragment }) => fragment),
    );
  }

  async #write(fragments: readonly string[]): Promise<void> {
    await record.use((store) => store.settings.set(KEY, fragments));
    await this.look();
  }
}

async function remarksOn(
  store: Store,
  offer: HomeworkOffer,
  attempts: readonly Attempt[],
): Promise<readonly Remark[]> {
  const given = await store.attempts.overridesOfAll(attempts.map(({ id }) => id));
  const newest = [...given.values()].flatMap((all) => all.at(-1) ?? []);
  const said = newest.filter(({ mark, remark }) => mark !== null || remark !== '');
  const all = new Map([...offer.remarks, ...said].map((one) => [one.id, one]));
  return [...all.values()].sort((a, b) => b.atMs - a.atMs);
}

/** One fragment alone is what earlier versions kept. */
async function kept(store: Store): Promise<readonly string[]> {
  const value = await store.settings.get(KEY);
  if (typeof value === 'string') return [value];
  return Array.isArray(value) ? value.filter((one) => typeof one === 'string') : [];
}

export const homeworks = new Homeworks();
