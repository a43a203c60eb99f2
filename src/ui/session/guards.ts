import type { Edges } from './edges.ts';

type Reason = 'hidden' | 'call' | 'microphone-unplugged' | 'context-suspended';

/**
 * Watches what would make a take unfair: a hidden page, a paused context, a microphone that
 * goes away or is taken by a call.
 * @param isRunning whether the context runs; asked with each picture through `check`.
 */
export function watch(
  { onLive, onHidden }: Pick<Edges, 'onLive' | 'onHidden'>,
  isRunning: () => boolean,
  report: (reason: Reason) => void,
): { check(): void; end(): void } {
  const endHidden = onHidden(() => report('hidden'));
  const endLive = onLive((event) => {
    if (event.type !== 'problem') return;
    if (event.code === 'microphone-unplugged' || event.code === 'context-suspended') report(event.code);
    // The system mutes the track while a call or another program has the microphone.
    else if (event.code === 'microphone-busy') report('call');
  });
  return {
    check() {
      if (!isRunning()) report('context-suspended');
    },
    end() {
      endHidden();
      endLive();
    },
  };
}
