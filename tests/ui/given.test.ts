import { describe, expect, it } from 'vitest';
import { kindOf, linkIn } from '../../src/ui/given/kind.ts';
import { pack } from '../../src/store/backup/container.ts';
import { testToMidi, testToMusicXml } from '../../src/exchange/index.ts';
import { sampleAttempt } from '../store/support/sample.ts';

const text = (words: string): Uint8Array => new TextEncoder().encode(words);
const test = sampleAttempt('0'.repeat(32), 0).test as Parameters<typeof testToMidi>[0];

describe('a file that was opened with the app', () => {
  it.each(['backup', 'homework', 'results'] as const)(
    'is known for a %s by itself, whatever it is called',
    async (kind) => {
      expect(kindOf(await pack(kind, { any: 'thing' }), 'photo.jpg')).toBe(kind);
    },
  );
  it('is music by what it is, or by what it is called', () => {
    expect(kindOf(testToMidi(test, 'A tune'), 'no name')).toBe('music');
    expect(kindOf(text(testToMusicXml(test, 'A tune')), 'A tune.MusicXML')).toBe('music');
    expect(kindOf(text('PK'), 'tune.mxl')).toBe('music');
  });
  it('is a recording by what it is called', () => {
    for (const name of ['a.wav', 'b.Flac', 'c.mp3', 'd.m4a', 'e.opus'])
      expect(kindOf(text('x'), name)).toBe('sound');
  });
  it('is nothing where no page opens it', () => {
    for (const name of ['a.jpg', 'wav', 'mp3.txt', '']) expect(kindOf(text('x'), name)).toBeNull();
    expect(kindOf(new Uint8Array(), 'empty')).toBeNull();
    // Of Twobar's own, but of a kind that is not known here.
    const own = new Uint8Array(60);
    own.set([0x54, 0x57, 0x4f, 0x42, 0x41, 0x52, 0x1a, 0x0a, 1, 0, 9]);
    expect(kindOf(own, 'later.twobar')).toBeNull();
  });
});

it('finds the first link of the app in what was shared, and no other', () => {
  expect(linkIn('Your homework: https://a.test/x/#homework=AbC_-9 until Friday')).toBe('homework=AbC_-9');
  expect(linkIn('#results=q1 #test=z')).toBe('results=q1');
  for (const none of ['', 'https://a.test/#other=1', '#homework=', '#homework=<script>'])
    expect(linkIn(none)).toBeNull();
});
