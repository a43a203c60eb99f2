import { afterEach, describe, expect, it, vi } from 'vitest';
import { press, takeKeys, type TwoKeys } from '../../src/ui/state/keys.svelte.ts';

/** As much of an element as the keys look at: what it matches. */
class Element {
  readonly #matches: string;
  constructor(matches = '') {
    this.#matches = matches;
  }
  matches(selector: string): boolean {
    return this.#matches !== '' && selector.split(/,(?![^(]*\))/).some((one) => one.trim() === this.#matches);
  }
}
vi.stubGlobal('HTMLElement', Element);
vi.stubGlobal('HTMLInputElement', class extends Element {});

let forget = (): void => undefined;
afterEach(() => forget());

function screen(meaning: Partial<TwoKeys>) {
  const done: string[] = [];
  forget = takeKeys(() => ({ onward: () => done.push('on'), back: () => done.push('back'), ...meaning }));
  return (key: string, target = new Element(), repeat = false): string => {
    done.length = 0;
    press({ key, target, repeat, preventDefault: () => undefined } as unknown as KeyboardEvent);
    return done.join();
  };
}

describe('a pedal in any of its modes', () => {
  it('turns on and back by page keys and by the keys of a media player, on every screen', () => {
    const say = screen({});
    expect(['PageDown', ' ', 'MediaTrackNext', 'MediaPlayPause'].map((key) => say(key))).toEqual(
      Array(4).fill('on'),
    );
    expect(['PageUp', 'MediaTrackPrevious'].map((key) => say(key))).toEqual(['back', 'back']);
    // Arrows scroll a page.
    expect(['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown'].map((key) => say(key)).join('')).toBe('');
  });
  it('turns by arrows where a screen has no other use for them', () => {
    const test = screen({ arrows: 'all' });
    expect(['ArrowRight', 'ArrowDown', 'ArrowLeft', 'ArrowUp'].map((key) => test(key))).toEqual([
      'on',
      'on',
      'back',
      'back',
    ]);
    const result = screen({ arrows: 'sides' });
    expect(['ArrowRight', 'ArrowDown', 'ArrowLeft', 'ArrowUp'].map((key) => result(key))).toEqual([
      'on',
      '',
      'back',
      '',
    ]);
  });
  it('gives the left arrow its own meaning where it has one, and leaves a slider its arrows but not the page keys', () => {
    const done = vi.fn();
    const say = screen({ left: done, arrows: 'all' });
    expect(say('ArrowLeft')).toBe('');
    expect(done).toHaveBeenCalledTimes(1);
    const slider = new Element('input');
    expect(say('ArrowRight', slider)).toBe('');
    expect(say('PageDown', slider)).toBe('on');
  });
  it('is one press however long it is held', () => {
    expect(screen({})('PageDown', new Element(), true)).toBe('');
  });
});
