import { keeper } from './record/record.svelte.ts';
import { goOn } from './programme/goOn.ts';
import { leftOff } from './programme/standing.svelte.ts';
import { Session } from './session/session.svelte.ts';
import { StayAwake } from './session/stayAwake.ts';
import { settings } from './settings/settings.svelte.ts';
import { ears, problemCode } from './state/ears.svelte.ts';
import { latency } from './state/latency.svelte.ts';

const awake = new StayAwake();

/** The one task being taken in this page, with the browser and the record at its edges. */
export const session: Session = new Session({
  async open() {
    const sound = await ears.open();
    // What could not be fetched before may be there now.
    if (ears.unfetched) ears.problem = null;
    return ears.microphone || (await ears.listen()) ? sound : null;
  },
  refused(error) {
    const code = problemCode(error);
    if (code === null) throw error;
    ears.problem = code;
  },
  onLive: (listener) => ears.onLive(listener),
  latency,
  get headphones() {
    return settings.now.output === 'headphones';
  },
  get count() {
    return settings.now.count;
  },
  get question() {
    return settings.now.question;
  },
  onPicture(draw) {
    let picture = 0;
    const next = (): void => {
      picture = requestAnimationFrame(next);
      draw();
    };
    picture = requestAnimationFrame(next);
    return () => cancelAnimationFrame(picture);
  },
  keepAwake: (on) => awake.set(on),
  onHidden(report) {
    const look = (): void => {
      if (document.visibilityState === 'hidden') report();
    };
    document.addEventListener('visibilitychange', look);
    return () => document.removeEventListener('visibilitychange', look);
  },
  keeper,
  // A piece cannot be taken up by another page: its recording is only in this one. A sitting keeps its own place.
  stands: (standing) =>
    void (['piece', 'sitting'].includes(standing.programme.from) ? leftOff.forget() : leftOff.keep(standing)),
  next: (programme, last) => void goOn(session, programme, last),
});
