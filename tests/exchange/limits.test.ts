import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import {
  gunzipped,
  listCode,
  testFromMusicXml,
  fromListCode,
  testToMusicXml,
} from '../../src/exchange/index.ts';
import { MOST } from '../../src/exchange/limits.ts';
import { MOST as MOST_STORED } from '../../src/store/limits.ts';
import { strToU8, zipSync } from 'fflate';
import { makeTest } from '../../src/tests-engine/index.ts';
import { anyTest } from '../tests-engine/procedure/some-tests.ts';
import fc from 'fast-check';
import { answerTo, HOSTILE } from '../support/hostile.ts';
import { likeThe, sounding } from './options.ts';

describe('what is made to cost much', () => {
  // What it costs is measured by `npm run bench:doors`, each in a process of its own.
  const quick = HOSTILE.filter(({ heavy }) => !heavy);
  it.each(quick)('is refused, in words: $name', async (hostile) => {
    expect(await answerTo(hostile)).toMatch(hostile.says);
  });
});

describe('what is not', () => {
  it('comes through: a packed score beside pictures and a name twice, and a hundred long tests', () => {
    const test = makeTest({ kind: 'melody', level: 8, seed: 3, instrument: 'guitar' });
    const files = {
      'META-INF/container.xml': strToU8(
        '<container><rootfiles><rootfile full-path="s.xml"/></rootfiles></container>',
      ),
      'picture.png': new Uint8Array(9_000_000),
      's.xml': strToU8(testToMusicXml(test)),
    };
    expect(sounding(testFromMusicXml(zipSync(files), likeThe(test)))).toEqual(sounding(test));
    const plain = zipSync({ ...files, 'picture.png': new Uint8Array(9) }, { level: 0 });
    expect(sounding(testFromMusicXml(plain, likeThe(test)))).toEqual(sounding(test));
    const tests = Array.from({ length: MOST.listTests }, (_, seed) =>
      makeTest({ kind: seed % 2 ? 'rhythm' : 'melody', level: 10, seed, instrument: 'guitar' }),
    );
    expect(fromListCode(listCode({ a: 1 }, tests)).tests).toEqual(tests);
  });
  it('is far below the limits: no test takes a tenth of the room a link has', () => {
    fc.assert(
      fc.property(anyTest, (test) => {
        expect(JSON.stringify(test).length).toBeLessThan(MOST.codeBytes);
      }),
      { numRuns: 200 },
    );
  });
  it('is a title with a letter that only the DTD of MusicXML names', () => {
    const test = makeTest({ kind: 'melody', level: 1, seed: 3, instrument: 'guitar' });
    const named = testToMusicXml(test).replace(
      '<part-list>',
      '<movement-title>Caf&eacute;</movement-title><part-list>',
    );
    expect(named).toContain('&eacute;');
    expect(sounding(testFromMusicXml(strToU8(named), likeThe(test)))).toEqual(sounding(test));
  });
});

describe('the table of limits in the README', () => {
  const readme = readFileSync(resolve(import.meta.dirname, '../../src/exchange/README.md'), 'utf8');
  const number = (value: number): string => value.toLocaleString('en');
  it('has every number as it is', () => {
    for (const value of [
      ...[MOST.codeSigns, MOST.listSigns, MOST.listTests, MOST.xmlElements, MOST.xmlDepth, MOST.zipEntries],
      ...[MOST_STORED.ratio, MOST_STORED.depth, MOST_STORED.bytesPerContainer],
      ...Object.values(MOST_STORED.rows),
    ])
      expect(readme, number(value)).toContain(number(value));
  });
  it('says what is said', () => {
    const sources = ['exchange/refusals/index.ts', 'ui/messages/english/practice.ts']
      .map((path) => readFileSync(resolve(import.meta.dirname, '../../src', path), 'utf8'))
      .join('\n')
      .replace('{most} elements', `${MOST.xmlElements} elements`);
    const said = [...readme.matchAll(/“([^”]+)”/g)].map(([, words]) => words!);
    expect(said.length).toBeGreaterThan(7);
    for (const words of said) expect(sources, words).toContain(words);
  });
});

describe('gzip that is unpacked at once', () => {
  const text = Buffer.from('so many notes, '.repeat(400));
  it('gives back what was packed, as long as it says and no longer than it may be', () => {
    for (const plain of [text, Buffer.alloc(0), Buffer.from([7])])
      expect(Buffer.compare(gunzipped(gzipSync(plain), text.length), plain)).toBe(0);
    expect(() => gunzipped(gzipSync(text), text.length - 1)).toThrow(/may come out/);
  });
  it('makes no more room than it may, whatever the trailer says, and throws for what is cut short', () => {
    const packed = gzipSync(text);
    const lying = Buffer.from(packed);
    lying.writeUInt32LE(10, packed.length - 4);
    expect(gunzipped(lying, 1000)).toHaveLength(10);
    lying.writeUInt32LE(2 ** 32 - 1, packed.length - 4);
    expect(() => gunzipped(lying, 1e6)).toThrow(/may come out/);
    for (const short of [packed.subarray(0, 5), packed.subarray(0, 0), Buffer.from('no gzip, but text')])
      expect(() => gunzipped(short, 1e6)).toThrow();
    expect(() => gunzipped(Buffer.concat([packed.subarray(0, 30), packed.subarray(-8)]), 1e6)).toThrow();
  });
});
