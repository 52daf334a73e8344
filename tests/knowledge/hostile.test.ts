// An overlay that is made to hurt: one clear line for each file, nothing followed, nothing built up.

import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { readFolders } from '../../src/knowledge/files.js';
import type { Mistake } from '../../src/knowledge/mistake.js';
import { parseFile } from '../../src/knowledge/parse.js';
import { topicFile } from '../../src/knowledge/schema.js';

const good =
  'id: x\nphrases: [zzz]\nexamples: [zzz]\nanswer:\n  homeowner: [A.]\n  technician: [A.]\nsource: common-practice\n';

function mistakesOf(text: string): Mistake[] {
  const mistakes: Mistake[] = [];
  const parsed = parseFile('x.yaml', text, topicFile, mistakes);
  expect(parsed === null).toBe(mistakes.length > 0);
  return mistakes;
}

test('the file that the others are made from is right', () => {
  expect(mistakesOf(good)).toEqual([]);
});

// YAML 1.2.2, chapters 3, 6 and 7: anchors, tags, directives; the merge key is a draft for YAML 1.1
test.each([
  ['aliases that multiply', 'a: &a [l,l]\nb: &b [*a,*a,*a,*a]\nc: &c [*b,*b,*b]\nd: [*c,*c]\n', 'aliases'],
  ['an alias of itself', 'a: &a [*a]\n', 'aliases'],
  ['a merge key', `${good}<<: {source: published}\n`, 'unknown key "<<"'],
  ['a tag of code', good.replace('id: x', "id: !!js/function 'x'"), 'Unresolved tag'],
  ['a tag of its own', good.replace('id: x', 'id: !custom x'), 'Unresolved tag'],
  ['bytes', good.replace('id: x', 'id: !!binary aGVsbG8='), 'received Buffer'],
  ['__proto__', `${good}__proto__: {a: 1}\n`, '"__proto__" is not allowed'],
  ['__proto__ inside', good.replace('homeowner: [A.]', '__proto__: [A.]'), '"__proto__" is not allowed'],
  ['constructor', `${good}constructor: 1\n`, '"constructor" is not allowed'],
  ['prototype', `${good}prototype: 1\n`, '"prototype" is not allowed'],
  ['lists without an end', `id: ${'['.repeat(60_000)}`, 'too deep'],
  ['lists in lists', `id: ${'['.repeat(9000)}${']'.repeat(9000)}`, 'too deep'],
  ['dashes in a row', '- '.repeat(50_000), 'too deep'],
  ['maps without an end', '{a: '.repeat(30_000), 'too deep'],
  ['a file too long', `${good}#${'x'.repeat(300_000)}\n`, 'characters'],
  ['two documents', `${good}---\n${good}`, 'multiple documents'],
])('%s', (_, text, problem) => {
  const mistakes = mistakesOf(text);
  expect(mistakes[0]?.problem).toContain(problem);
  expect(mistakes.length).toBeLessThanOrEqual(5);
  expect(({} as Record<string, unknown>)['a']).toBeUndefined();
});

describe('a folder with', () => {
  const base = mkdtempSync(join(tmpdir(), 'thawline-overlay-'));
  afterAll(() => rmSync(base, { recursive: true, force: true }));
  const own = join(base, 'own');
  mkdirSync(own);
  let folders = 0;
  const folder = (): string => {
    const path = join(base, String((folders += 1)));
    mkdirSync(join(path, 'topics'), { recursive: true });
    return path;
  };

  test.each<[string, (path: string) => void, string]>([
    ['a link to a file elsewhere', (f) => symlinkSync('/etc/hostname', join(f, 'topics/x.yaml')), 'is a link'],
    ['a link to a folder elsewhere', (f) => symlinkSync('/etc', join(f, 'language')), 'is a link'],
    ['a link to itself', (f) => symlinkSync('.', join(f, 'loop')), 'is a link'],
    ['a pipe', (f) => void execFileSync('mkfifo', [join(f, 'topics/x.yaml')]), 'no plain file'],
    ['two megabytes', (f) => writeFileSync(join(f, 'topics/x.yaml'), '#'.repeat(2e6)), 'more than 1000000 bytes'],
  ])('%s', (_, make, problem) => {
    const path = folder();
    make(path);
    expect(() => readFolders(own, path)).toThrow(problem);
  });
});
