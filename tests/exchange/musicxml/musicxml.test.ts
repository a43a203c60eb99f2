import { XMLParser, XMLValidator } from 'fast-xml-parser';
import fc from 'fast-check';
import { zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { ExchangeError, testFromMusicXml, testToMusicXml } from '../../../src/exchange/index.ts';
import { parseTest } from '../../../src/tests-engine/index.ts';
import { anyTest, METRES, note, plain, plainRhythm } from '../../tests-engine/procedure/some-tests.ts';
import { bytesOf, likeThe, refuses, sounding } from '../options.ts';

const list = <T>(value: T | T[] | undefined): T[] =>
  value === undefined ? [] : Array.isArray(value) ? value : [value];
const parsed = (xml: string) =>
  new XMLParser({
    ignoreAttributes: false,
    attributeNamePrefix: '',
    isArray: (name) => name === 'measure' || name === 'part',
  }).parse(xml)['score-partwise'];

describe('MusicXML export', () => {
  it('is well formed, and every bar of every metre adds up to the tick', () => {
    fc.assert(
      fc.property(anyTest, (test) => {
        const xml = testToMusicXml(test);
        expect(XMLValidator.validate(xml)).toBe(true);
        const { beats, beatUnit } = test.phrase.metre;
        for (const part of parsed(xml).part)
          for (const measure of part.measure) {
            for (const staff of [1, 2]) {
              const own = list<{ duration: number; staff: number }>(measure.note).filter(
                (n) => n.staff === staff,
              );
              expect(own.reduce((s, n) => s + n.duration, 0)).toBe((beats * 4 * 480) / beatUnit);
            }
            expect(measure.backup.duration).toBe((beats * 4 * 480) / beatUnit);
          }
      }),
      { numRuns: 100 },
    );
  });
  it('shows what sounds in the clef that sounds an octave lower, over a TAB of its strings', () => {
    const [part] = parsed(testToMusicXml(plain)).part;
    const { attributes, note: notes } = part.measure[0];
    expect(attributes).not.toHaveProperty('transpose');
    expect(attributes.staves).toBe(2);
    expect(attributes.clef).toEqual([
      { number: '1', sign: 'G', line: 2, 'clef-octave-change': -1 },
      { number: '2', sign: 'TAB', line: 5 },
    ]);
    expect(attributes['staff-details']['staff-lines']).toBe(6);
    // E2 A2 D3 G3 B3 E4 from the lowest line up.
    expect(
      attributes['staff-details']['staff-tuning'].map((s: any) => [
        Number(s.line),
        s['tuning-step'],
        s['tuning-octave'],
      ]),
    ).toEqual([
      [1, 'E', 2],
      [2, 'A', 2],
      [3, 'D', 3],
      [4, 'G', 3],
      [5, 'B', 3],
      [6, 'E', 4],
    ]);
    // A3 = 57 sounds.
    expect(notes[0]).toMatchObject({ pitch: { step: 'A', octave: 3 }, staff: 1 });
    const [tab] = list<any>(notes).filter(({ staff }) => staff === 2);
    expect(tab).toMatchObject({ pitch: { step: 'A', octave: 3 }, voice: 5, stem: 'none' });
    expect(tab.notations.technical).toEqual({ string: 3, fret: 2 });
  });
  it('calls the work by its title, else by its key, and says in words that it swings', () => {
    expect(parsed(testToMusicXml(plain)).work['work-title']).toBe('A minor pentatonic');
    expect(parsed(testToMusicXml(plain, 'Lick & turn <3>')).work['work-title']).toBe('Lick & turn <3>');
    expect(testToMusicXml(plain)).not.toContain('<words');
    expect(testToMusicXml({ ...plain, swing: 2 / 3 })).toContain('<words font-style="italic">swing</words>');
  });
  it('ties over beats, beams quavers, brackets triplets', () => {
    const phrase = {
      ...plain.phrase,
      bars: 2,
      notes: [
        note(0, 240, 57),
        note(240, 240, 60),
        note(480, 160, 62),
        note(640, 160, 64),
        note(800, 160, 62),
        note(1440, 960, 57),
      ],
    };
    const [part] = parsed(testToMusicXml({ ...plain, phrase })).part;
    const notes = part.measure[0].note;
    expect(list(notes[0].beam).map((b: any) => b['#text'])).toEqual(['begin']);
    expect(list(notes[1].beam).map((b: any) => b['#text'])).toEqual(['end']);
    expect(notes[2]['time-modification']).toEqual({ 'actual-notes': 3, 'normal-notes': 2 });
    expect(notes[2].notations.tuplet.type).toBe('start');
    expect(notes[4].notations.tuplet.type).toBe('stop');
    expect(notes.some((n: any) => n.tie?.type === 'start')).toBe(true);
  });
  it('holds both rhythms of the question, A first', () => {
    const score = parsed(testToMusicXml(plainRhythm));
    expect(score['part-list']['score-part'].map((p: any) => p['part-name'])).toEqual([
      'Guitar, Rhythm A',
      'Guitar, Rhythm B',
    ]);
    expect(score.part).toHaveLength(2);
  });
  it('writes the swing as a ratio and an unusual grouping out', () => {
    expect(testToMusicXml({ ...plain, swing: 2 / 3 })).toContain(
      '<swing><first>2</first><second>1</second><swing-type>eighth</swing-type></swing>',
    );
    const metre = METRES[7]!;
    expect(testToMusicXml({ ...plain, phrase: { metre, bars: 1, notes: [note(0, 720, 57)] } })).toContain(
      '<beats>3+2+2</beats>',
    );
    const usual = METRES[6]!;
    expect(
      testToMusicXml({ ...plain, phrase: { metre: usual, bars: 1, notes: [note(0, 480, 57)] } }),
    ).toContain('<beats>7</beats>');
  });
});

const options = likeThe(plain);
/** A file of one part with these bars. */
const score = (...bars: string[]) =>
  bytesOf(
    `<?xml version="1.0"?><score-partwise version="4.0"><part-list/><part id="P1">${bars.map((b, i) => `<measure number="${i + 1}">${b}</measure>`).join('')}</part></score-partwise>`,
  );
const time = (beats: string | number, unit: number) =>
  `<attributes><divisions>2</divisions><time><beats>${beats}</beats><beat-type>${unit}</beat-type></time></attributes>`;
const n = (step: string, octave: number, duration: number, more = '') =>
  `<note>${more.includes('<chord/>') ? '<chord/>' : ''}<pitch><step>${step}</step><octave>${octave}</octave></pitch><duration>${duration}</duration>${more.replace('<chord/>', '')}</note>`;
const four = time(4, 4);

describe('MusicXML import', () => {
  it('brings an exported melody back, note for note, with its spelling, as a valid test', () => {
    fc.assert(
      fc.property(anyTest, (test) => {
        fc.pre(test.kind === 'melody');
        const back = testFromMusicXml(bytesOf(testToMusicXml(test)), likeThe(test));
        expect(sounding(back)).toEqual(sounding(test));
        expect(back.phrase.notes.map((x) => x.spelling)).toEqual(test.phrase.notes.map((x) => x.spelling));
        expect(back.tempoBpm).toBe(test.tempoBpm);
        expect(() => parseTest(JSON.parse(JSON.stringify(back)))).not.toThrow();
      }),
      { numRuns: 100 },
    );
  });
  it('joins tied notes, puts an upbeat at the end of bar 1, leaves a TAB staff alone', () => {
    const tied = testFromMusicXml(
      score(
        `${four}${n('A', 3, 6)}${n('C', 4, 2, '<tie type="start"/>')}`,
        `${n('C', 4, 2, '<tie type="stop"/>')}${n('D', 4, 6)}`,
      ),
      options,
    );
    expect(sounding(tied)).toEqual([
      [0, 1440, 57],
      [1440, 960, 60],
      [2400, 1440, 62],
    ]);
    const upbeat = testFromMusicXml(score(`${four}${n('E', 4, 2)}`, n('A', 4, 8)), options);
    expect(sounding(upbeat)).toEqual([
      [1440, 480, 64],
      [1920, 1920, 69],
    ]);
    const tab = `<attributes><divisions>2</divisions><staves>2</staves><clef number="1"><sign>G</sign></clef><clef number="2"><sign>TAB</sign></clef></attributes>`;
    const both = testFromMusicXml(
      score(
        `${tab}${n('A', 3, 8, '<voice>1</voice><staff>1</staff>')}<backup><duration>8</duration></backup>${n('A', 3, 8, '<voice>5</voice><staff>2</staff>')}`,
      ),
      options,
    );
    expect(sounding(both)).toEqual([[0, 1920, 57]]);
  });
  it('reads a compressed file, the key’s mode, and the tempo', () => {
    const xml = bytesOf(testToMusicXml({ ...plain, key: { tonic: 'D', scale: 'dorian' } }));
    const container = '<container><rootfiles><rootfile full-path="score.xml"/></rootfiles></container>';
    const mxl = zipSync({ 'META-INF/container.xml': bytesOf(container), 'score.xml': xml });
    const test = testFromMusicXml(mxl, options);
    expect(test.key).toEqual({ tonic: 'D', scale: 'dorian' });
    expect(test.tempoBpm).toBe(90);
  });
  it.each([
    ['nothing', new Uint8Array(), /is empty/],
    ['text', bytesOf('hello'), /not MusicXML/],
    ['another XML', bytesOf('<svg></svg>'), /not MusicXML/],
    ['half a file', bytesOf(testToMusicXml(plain).slice(0, 900)), /damaged|no note/],
    ['a zip that is none', Uint8Array.of(0x50, 0x4b, 3, 4, 0, 0), /damaged/],
    ['a zip without a score', zipSync({ 'a.txt': bytesOf('a') }), /holds no score/],
    ['bars first', bytesOf('<score-timewise/>'), /score-partwise/],
    ['no notes', score(four), /no note in the file/],
    [
      'a chord',
      score(`${four}${n('A', 3, 8)}${n('C', 4, 8, '<chord/>')}`),
      /Two notes sound at once in bar 1/,
    ],
    [
      'two voices',
      score(
        `${four}${n('A', 3, 8, '<voice>1</voice>')}<backup><duration>8</duration></backup>${n('C', 4, 8, '<voice>2</voice>')}`,
      ),
      /second voice sounds in bar 1/,
    ],
    [
      'a grace note',
      score(`${four}<note><grace/><pitch><step>A</step><octave>3</octave></pitch></note>`),
      /grace note/,
    ],
    ['a drum', score(`${four}<note><unpitched/><duration>8</duration></note>`), /without a pitch/],
    [
      'a quarter tone',
      score(
        `${four}<note><pitch><step>A</step><alter>0.5</alter><octave>3</octave></pitch><duration>8</duration></note>`,
      ),
      /quarter tone/,
    ],
    [
      'repeat signs',
      score(`${four}${n('A', 3, 8)}<barline><repeat direction="backward"/></barline>`),
      /repeat signs/,
    ],
    [
      'a change of metre',
      score(`${four}${n('A', 3, 8)}`, `${time(3, 4)}${n('A', 3, 6)}`),
      /time signature changes/,
    ],
    ['a bar too long', score(`${four}${n('A', 3, 10)}`), /Bar 1 is longer/],
    [
      'quintuplets',
      score(`<attributes><divisions>5</divisions></attributes>${n('A', 3, 1)}`),
      /note value that no test has/,
    ],
    ['no number', score(`${four}${n('A', 3, 8).replace('>8<', '>x<')}`), /no number in <duration>/],
    ['too low', score(`${four}${n('A', 1, 8)}`), /A1 in bar 1 is beyond the guitar/],
    ['seventeen bars', score(four + n('A', 3, 8), ...Array<string>(16).fill(n('A', 3, 8))), /17 bars/],
  ])('refuses %s', (_, bytes, message) => refuses(() => testFromMusicXml(bytes, options), message));
  it('does not expand a file’s own entities', () => {
    const bomb = `<?xml version="1.0"?><!DOCTYPE s [<!ENTITY a "${'x'.repeat(1000)}"><!ENTITY b "${'&a;'.repeat(1000)}">]><score-partwise><part-name>${'&b;'.repeat(1000)}</part-name></score-partwise>`;
    refuses(() => testFromMusicXml(bytesOf(bomb), options), /no note|damaged/);
  });
  it('reads or refuses whatever it is given', () => {
    const good = testToMusicXml(plain);
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(good.length - 1), fc.constantFrom('<', '>', '/', '"', '9', '-', 'x', '')), {
          maxLength: 4,
        }),
        fc.nat(good.length),
        (changes, length) => {
          let text = good.slice(0, length);
          for (const [at, sign] of changes) text = text.slice(0, at) + sign + text.slice(at + 1);
          try {
            testFromMusicXml(bytesOf(text), options);
          } catch (error) {
            expect(error).toBeInstanceOf(ExchangeError);
          }
        },
      ),
      { numRuns: 1000 },
    );
  });
});
