import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cell, csvOf } from '../../src/outcomes/csv.js';
import { figuresOf } from '../../src/outcomes/figures.js';
import { inventedOutcomes } from '../../src/outcomes/invented.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const figures = figuresOf(knowledge, inventedOutcomes(knowledge, 500, 1));

/** Cells of a CSV text as RFC 4180 says: quoted where quoted, a doubled quote is one. */
function parse(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  const pattern = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/gy;
  for (const [, quoted, plain, end] of text.matchAll(pattern)) {
    row.push(quoted === undefined ? (plain ?? '') : quoted.replaceAll('""', '"'));
    if (end === ',') continue;
    rows.push(row);
    row = [];
  }
  return rows;
}

describe('a cell', () => {
  // The signs of OWASP's Application Security Verification Standard 5.0, requirement 1.2.10, and the full-width forms
  // that spreadsheets take for them (from memory).
  test.each(['=1+1', '+1', '-1', '@SUM(A1)', '\tx', '\rx', '\0x', ' =1', '\uff1d1', '\uff0b1', '\uff0d1', '\uff201'])(
    'that a spreadsheet would take for a formula (%j) is made words',
    (text) => {
      expect(parse(`${cell(text)}\r\n`)[0]?.[0]).toBe(`'${text}`);
    },
  );

  test('a number stays a number, below zero too', () => {
    expect([cell(-1.5), cell(0), cell(null)]).toEqual(['-1.5', '0', '']);
  });

  // RFC 4180, section 2, rules 5 to 7
  test.each(['a,b', 'say "no"', 'one\r\ntwo'])('%j is quoted and comes back', (text) => {
    expect(cell(text).startsWith('"')).toBe(true);
    expect(parse(`${cell(text)}\r\n`)).toEqual([[text]]);
  });

  test('whatever is written comes back, and never as a formula', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const back = parse(`${cell(text)},\r\n`)[0]?.[0] ?? '?';
        expect([text, `'${text}`]).toContain(back);
        expect(back).not.toMatch(/^\s*[=+\-@]/);
      }),
    );
  });
});

test('the whole report is there, each line marked as invented', () => {
  const [head, ...rows] = parse(csvOf(figures));
  expect(head).toEqual(['figure', 'group', 'name', 'value', 'of', 'invented']);
  expect(rows.every((r) => r.length === 6 && r[5] === 'true')).toBe(true);
  const value = (figure: string, group: string, name: string): (string | undefined)[] | undefined =>
    rows.find((r) => r[0] === figure && r[1] === group && r[2] === name)?.slice(3, 5);
  expect(value('cases', '', '')).toEqual(['500', '']);
  expect(value('right-first-time', '', '')).toEqual([
    String(figures.rightFirstTime.count),
    String(figures.rightFirstTime.of),
  ]);
  expect(value('score', '', 'brier')).toEqual([String(figures.scores.brier), String(figures.scores.of)]);
  expect(rows.filter((r) => r[0] === 'cause')).toHaveLength(Object.keys(figures.causes).length);
  for (const [layout, causes] of Object.entries(figures.byLayout))
    for (const [cause, n] of Object.entries(causes))
      expect(value('cause-by-layout', layout, cause)?.[0]).toBe(String(n));
});
