import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openSoundFont } from '../../audio-fixtures/banks/soundFont.ts';

const folder = mkdtempSync(join(tmpdir(), 'twobar-sf2-'));

function chunk(id: string, ...content: Buffer[]): Buffer {
  const body = Buffer.concat(content);
  const head = Buffer.alloc(8);
  head.write(id, 'latin1');
  head.writeUInt32LE(body.length, 4);
  return Buffer.concat([head, body, Buffer.alloc(body.length & 1)]);
}

function font(): Buffer {
  const frames = Buffer.alloc(20);
  [0, 16384, -32768, 32767, 1, 2, 3, 4, 5, 6].forEach((x, i) => frames.writeInt16LE(x, 2 * i));
  const header = Buffer.alloc(46);
  header.write('Low E', 'latin1');
  [1, 4, 2, 3, 22_050].forEach((x, i) => header.writeUInt32LE(x, 20 + 4 * i));
  return chunk(
    'RIFF',
    Buffer.from('sfbk'),
    chunk('LIST', Buffer.from('INFO'), chunk('ifil', Buffer.alloc(3))),
    chunk('LIST', Buffer.from('sdta'), chunk('smpl', frames)),
    chunk('LIST', Buffer.from('pdta'), chunk('phdr', Buffer.alloc(38)), chunk('shdr', header)),
  );
}

describe('a SoundFont file', () => {
  it('gives its samples with name, loop, rate and frames', () => {
    const path = join(folder, 'a.sf2');
    writeFileSync(path, font());
    const { samples, read } = openSoundFont(path);
    expect(samples).toEqual([
      { name: 'Low E', start: 1, end: 4, loopStart: 2, loopEnd: 3, sampleRate: 22_050 },
    ]);
    expect([...read(samples[0]!)]).toEqual([0.5, -1, Math.fround(32767 / 32768)]);
  });
  it('is refused when it is something else', () => {
    const path = join(folder, 'b.sf2');
    writeFileSync(path, chunk('RIFF', Buffer.from('WAVE'), chunk('fmt ', Buffer.alloc(16))));
    expect(() => openSoundFont(path)).toThrow(new RangeError('no chunk sdta/smpl: not a SoundFont 2 file'));
  });
});
