import { apiOf, sendSounds, StudioProblem, syncOnce } from '../../studio/index.ts';
import type { Membership, StudioProblemCode } from '../../studio/index.ts';
import type { Store } from '../../store/index.ts';
import { homeworks } from '../record/homework.svelte.ts';
import { players, record } from '../record/record.svelte.ts';
import { session } from '../session.svelte.ts';
import { studioState } from './state.svelte.ts';

/** Between two rounds, ms; the first waiting time where the studio does not answer. */
const EVERY_MS = 20_000;
/** The longest of them. */
const MOST_MS = 15 * 60_000;
/** After a take, ms: the mark is on the screen by then. */
const SOON_MS = 1500;

export const serverFetch = (url: string, init: RequestInit): Promise<Response> => fetch(url, init);

/** No test runs: none was begun, or its mark is on the screen. */
const isQuiet = (): boolean => ['result', 'left', undefined].includes(session.state?.step);

/** Keeps this machine's record and the studio's alike, in the background, never during a test. One tab at a time does it. */
class StudioKeeper {
  #timer: ReturnType<typeof setTimeout> | undefined;
  #wait = EVERY_MS;
  #running = false;
  #started = false;
  /** The studio takes the sound of takes, as far as is known. */
  #sound = false;
  #now: Promise<void> | null = null;
  #next: Promise<void> | null = null;
  /** Sound waits to be sent. */
  #more = false;

  start(): void {
    if (this.#started) return;
    this.#started = true;
    addEventListener('online', () => this.soon());
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible') this.soon();
    });
    this.soon(0);
  }

  /** A round before long: something was written, or the network is back. */
  soon(ms = SOON_MS): void {
    if (!this.#started) return;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.#inTurn(), ms);
  }

  async #inTurn(): Promise<void> {
    if (this.#running) return;
    this.#running = true;
    try {
      const round = () => this.round();
      // Where there are no locks two tabs may do it at once, which does no harm.
      if (navigator.locks)
        await navigator.locks.request('twobar-studio', { ifAvailable: true }, (lock) =>
          lock ? round() : null,
        );
      else await round();
    } finally {
      this.#running = false;
      if (studioState.standing) this.soon(this.#more ? SOON_MS : this.#wait);
    }
  }

  /**
   * One round now; where one is under way, another after it, as that may have asked before what is wanted now was there.
   * Two at once would fetch and open everything twice.
   */
  round(): Promise<void> {
    if (this.#now === null)
      return (this.#now = this.#round().finally(() => {
        this.#now = null;
      }));
    this.#next ??= this.#now
      .catch(() => undefined)
      .then(() => {
        this.#next = null;
        return this.round();
      });
    return this.#next;
  }

  async #round(): Promise<void> {
    const store = await record.open();
    const member = await store?.studio.member();
    if (!store || !member) {
      studioState.standing = null;
      return;
    }
    let problem: StudioProblemCode | null = null;
    this.#more = false;
    if (isQuiet())
      try {
        const edges = {
          api: await apiOf(serverFetch, '', member),
          keep: (own: Membership) => store.studio.keep(own),
          mayGo: isQuiet,
        };
        const local = store.studio.local(member);
        const { own, pulled, whole, sound } = await syncOnce(member, { ...edges, local });
        if (whole) await store.studio.keepSeen(Date.now());
        if (pulled > 0) await this.#arrived(store, member);
        this.#wait = EVERY_MS;
        if (whole) {
          this.#sound = sound !== null;
          // Rows first: of a take that nobody knows of, nobody wants to hear.
          const { more } = await sendSounds(own, sound, { ...edges, sounds: store.studio.sounds() });
          this.#more = more && isQuiet();
        }
      } catch (error) {
        problem = error instanceof StudioProblem ? error.code : 'failed';
        this.#wait = Math.min(MOST_MS, this.#wait * 2);
        if (problem === 'student-gone') await players.lookAround();
      }
    await this.tell(store, member, problem);
  }

  async tell(store: Store, member: Membership, problem: StudioProblemCode | null): Promise<void> {
    studioState.standing = {
      ...{ role: member.role, problem, sound: this.#sound },
      pending: await store.studio.local(member).pendingCount(),
      seenMs: await store.studio.seen(),
    };
  }

  /** What came in shows: who is here, and on a student's machine the homework, as if its link had been opened. */
  async #arrived(store: Store, member: Membership): Promise<void> {
    await players.lookAround();
    studioState.arrivals += 1;
    if (member.student === null) return;
    const { homeworkFragment, readHomework } = await import('../../store/index.ts');
    await homeworks.look();
    const kept = new Set(homeworks.list.map(({ offer }) => offer.homeworkId));
    const set = (await store.students.homework(member.student)).toReversed();
    const seen = await store.studio.offered();
    for (const one of set) {
      if (kept.has(one.id) || seen.includes(one.id)) continue;
      const fragment = await homeworkFragment(one, one.thresholds ?? players.usualThresholds);
      await homeworks.keep(fragment, await readHomework(fragment));
    }
    await store.studio.keepOffered(set.map(({ id }) => id));
    await homeworks.look();
  }
}

export const studioKeeper = new StudioKeeper();
