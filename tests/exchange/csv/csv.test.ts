import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readTable, TableError, writeTable } from '../../../src/exchange/index.ts';
import { entriesFrom, levelList, rowsOf, SCALE_COLUMNS } from '../../../src/tests-engine/index.ts';

describe('tables', () => {
  it('are read by RFC 4180: quotes, commas and line ends inside cells', () => {
    expect(readTable('key,kind\r\n"a ""b"", c","two\r\nlines"\r\n')).toEqual([
      ['key', 'kind'],
      ['a "b", c', 'two\r\nlines'],
    ]);
  });

  it.each([
    ['key;kind\nA;major', 'semicolons'],
    ['key\tkind\nA\tmajor', 'tabs'],
    ['\uFEFFkey,kind\r\nA,major\r\n', 'a byte order mark'],
    ['key,kind\rA,major\r', 'old line ends'],
  ])('are read with what spreadsheets write: %j (%s)', (text) => {
    expect(readTable(text)).toEqual([
      ['key', 'kind'],
      ['A', 'major'],
    ]);
  });

  it('come back as they were written, whatever the cells hold', () => {
    const cell = fc.string().filter((text) => !text.includes('\0') && !/^[=+\-@\t\r\uFEFF]/.test(text));
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell, fc.constant('end')), { minLength: 1 }), (rows) => {
        expect(readTable(writeTable([['a', 'b', 'c'], ...rows]))).toEqual([['a', 'b', 'c'], ...rows]);
      }),
    );
  });

  it('keep a spreadsheet from running a cell as a formula', () => {
    expect(writeTable([['=1+1', '@x', 'plain']])).toBe("\uFEFF'=1+1,'@x,plain\r\n");
  });

  it('are refused with one sentence where they are none', () => {
    expect(() => readTable('key,kind\n"A,major')).toThrow(TableError);
    expect(() => readTable('key,kind\n"A,major')).toThrow('quotation mark that is not closed');
    expect(() => readTable('PK\u0003\u0004\0\0')).toThrow('no text');
    expect(() => readTable('x'.repeat(1_000_001))).toThrow('too long');
  });

  it('carry a list of scales there and back', () => {
    for (let level = 1; level <= 10; level++) {
      const { entries } = levelList(level, 'bass');
      expect(entriesFrom(readTable(writeTable([[...SCALE_COLUMNS], ...rowsOf(entries)])))).toEqual(entries);
    }
  });
});
