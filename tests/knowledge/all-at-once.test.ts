// Whoever edits the folder sees every mistake in one run, and the program never starts with half a folder.

import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { loadFolder } from '../../src/commands/knowledge-folder.js';
import { run } from '../../src/commands/knowledge.js';
import { UsageProblem } from '../../src/commands/problem.js';
import { OWN_FOLDER, readFolders } from '../../src/knowledge/files.js';
import { fromRaw, loadKnowledge } from '../../src/knowledge/load.js';
import { mistakeLine } from '../../src/knowledge/mistake.js';
import { phraseProblems } from '../../src/understand/check-phrases.js';
import { realTexts } from '../support/knowledge.js';
import { mistakesOf, smallFolder, sourceTexts } from './small-folder.js';

/** For what reads the whole real folder, on a machine that is busy. */
const SLOW = 60_000;
const GAP = 'findings/door.gap.yaml';
const ROOM = 'readings/room.yaml';

describe('several mistakes', () => {
  test('in one file and in several are all reported', () => {
    const texts = smallFolder({
      [GAP]: ['kind: symptom\nvalues: [wide, narrow, none]', 'kind: sympton\nvalues: [wide]\ncolour: red'],
      [ROOM]: ['part: room', 'part: room\nroof: flat'],
      'hazards/smoke.yaml': ['level: stop', 'level: stop\nlevel: caution'],
      'scale.yaml': null,
    });
    expect(mistakesOf([...texts, ...sourceTexts([['attic.yaml', 'a: b']])]).map(mistakeLine)).toEqual([
      expect.stringMatching(/^knowledge\/findings\/door\.gap\.yaml:2: "kind"/),
      expect.stringMatching(/^knowledge\/findings\/door\.gap\.yaml:3: "values"/),
      expect.stringMatching(/^knowledge\/findings\/door\.gap\.yaml:4: unknown key "colour"/),
      expect.stringMatching(/^knowledge\/readings\/room\.yaml:2: unknown key "roof"/),
      expect.stringMatching(/^knowledge\/hazards\/smoke\.yaml:3: the same key stands twice/),
      expect.stringMatching(/^knowledge\/attic\.yaml:1: no file of this name/),
      expect.stringMatching(/^knowledge\/scale\.yaml:1: the file is missing/),
    ]);
  });

  test('of ids, sources, rows and needed files are all reported', () => {
    const texts = smallFolder({
      [GAP]: ['{wide: 0.1, narrow: seldom', '{wide: 0.5, narrow: rarely'],
      [ROOM]: [', ref: house-book', ''],
      'faults/door-ajar.yaml': ['system: draught', 'system: drought'],
      'witnesses.yaml': ['room.temperature', 'room.warmth'],
      'units/sample-family.yaml': ['curve: ntc-sample', 'curve: none'],
      'findings/unit.age.yaml': null,
    });
    expect(mistakesOf(texts).map((m) => m.problem)).toEqual([
      'no system is called "drought"',
      'no finding or reading is called "room.warmth"',
      'no sensor curve is called "none"',
      'the program needs "unit.age", and it is missing',
      'a published value without "ref"',
      'door.gap: "rarely" is no word of the scale (usually, seldom)',
    ]);
  });

  // Today a folder is cross-checked only when every file could be read, and its phrases only when it loads.
  test.fails('of every kind are reported in one run, a text that cannot be read and an id that leads nowhere', () => {
    const texts = smallFolder({
      [GAP]: ['kind: symptom', 'colour: red\nkind: symptom'],
      'faults/door-ajar.yaml': ['system: draught', 'system: drought'],
    });
    expect(mistakesOf(texts)).toHaveLength(2);
  });

  test(
    'in the real folder: one broken file of each kind, each named with its last line',
    () => {
      const kinds = ['faults/', 'findings/', 'readings/', 'hazards/', 'topics/', 'curves/', 'units/', 'costs.yaml'];
      const broken = new Map<string, number>();
      const texts = realTexts().map((t) => {
        const kind = kinds.find((k) => t.path.startsWith(k));
        if (!kind || [...broken.keys()].some((file) => file.startsWith(`knowledge/${kind}`))) return t;
        const text = `${t.text.trimEnd()}\nx-colour: red\n`;
        broken.set(t.file, text.split('\n').length - 1);
        return { ...t, text };
      });
      const found = mistakesOf(texts);
      expect(found.map((m) => [m.file, m.line])).toEqual([...broken]);
      expect(found.length).toBeGreaterThanOrEqual(kinds.length - 1);
      for (const m of found)
        expect(m).toMatchObject({ problem: 'unknown key "x-colour"', mend: expect.stringMatching(/^Allowed here: /) });
    },
    SLOW,
  );
});

describe('phrases', () => {
  const problemsOf = (from: string, to: string): unknown[] => {
    const loaded = loadKnowledge(smallFolder({ [GAP]: [from, to] }), 'small');
    if (!loaded.ok) throw new Error(loaded.mistakes.map(mistakeLine).join('\n'));
    return phraseProblems(loaded.knowledge).map(({ text, where, problem }) => [where, text, problem]);
  };

  test('of the small folder all have an example', () => {
    expect(problemsOf('[shuts tight]', '[shuts tight]')).toEqual([]);
  });

  test.each([
    [
      'that occurs in no example',
      '[shuts tight]',
      '[shuts tight, never opens]',
      'never opens',
      'this phrase occurs in no example',
    ],
    [
      'that a list of words is missing for',
      '[shuts tight]',
      '[shuts tight, "<tight-word>"]',
      '<tight-word>',
      'no concept is called "tight-word"',
    ],
    [
      'and an example that none of them matches',
      '[the door shuts tight]',
      '[the door shuts tight, it is snug]',
      'it is snug',
      'no phrase matches this example',
    ],
    [
      'and an example that only denies it',
      '[the door shuts tight]',
      '[the door shuts tight, it never shuts tight]',
      'it never shuts tight',
      'no phrase matches this example',
    ],
  ])('a phrase %s', (_, from, to, text, problem) => {
    expect(problemsOf(from, to)).toContainEqual([`${GAP} none`, text, problem]);
  });
});

describe('an overlay', () => {
  let base = '';
  const cacheBefore = process.env['XDG_CACHE_HOME'];
  beforeAll(() => {
    base = mkdtempSync(join(tmpdir(), 'overlay-'));
    process.env['XDG_CACHE_HOME'] = join(base, 'cache');
  });
  afterAll(() => {
    if (cacheBefore === undefined) delete process.env['XDG_CACHE_HOME'];
    else process.env['XDG_CACHE_HOME'] = cacheBefore;
    rmSync(base, { recursive: true });
  });

  const overlay = (name: string, files: Readonly<Record<string, string>>): string => {
    for (const [path, text] of Object.entries(files)) {
      mkdirSync(dirname(join(base, name, path)), { recursive: true });
      writeFileSync(join(base, name, path), text);
    }
    return join(base, name);
  };
  const ours = (path: string): string => realTexts().find((t) => t.path === path)?.text ?? '';
  const cached = (): string[] => {
    try {
      return readdirSync(join(base, 'cache', 'thawline'));
    } catch {
      return [];
    }
  };
  const shown = async (folder: string): Promise<{ code: number; lines: string[] }> => {
    let text = '';
    const spy = vi.spyOn(process.stderr, 'write').mockImplementation((chunk) => ((text += String(chunk)), true));
    try {
      return { code: await run([folder, '--quiet']), lines: text.trimEnd().split('\n') };
    } finally {
      spy.mockRestore();
    }
  };

  const thrownBy = (call: () => unknown): unknown => {
    try {
      call();
    } catch (error) {
      return error;
    }
    throw new Error('nothing was thrown');
  };

  test('replaces our file of the same path whole, and adds the others', () => {
    const folder = overlay('good', {
      'scale.yaml': 'now-and-then: 0.5\n',
      'language/shed.yaml': 'shed-word:\n  words: [shed]\n',
      'notes.txt': 'not read',
    });
    const texts = readFolders(OWN_FOLDER, folder);
    expect(texts).toHaveLength(realTexts().length + 1);
    expect(texts.find((t) => t.path === 'scale.yaml')).toEqual({
      path: 'scale.yaml',
      file: `${folder}/scale.yaml`,
      text: 'now-and-then: 0.5\n',
    });
    expect(texts.find((t) => t.path === 'costs.yaml')?.file).toBe('knowledge/costs.yaml');
  });

  test(
    'with mistakes: every one is shown, exit code 2',
    async () => {
      const folder = overlay('broken', {
        'findings/unit.power.yaml': `colour: red\n${ours('findings/unit.power.yaml')}`,
        'curves/rod.yaml': 'id: rod\n',
        'shed/rake.yaml': 'id: rake\n',
      });
      const { code, lines } = await shown(folder);
      expect(code).toBe(2);
      expect(lines[0]).toContain(`${folder}/curves/rod.yaml:1: "title" is missing. Add it (string).`);
      expect(lines).toContainEqual(
        expect.stringContaining(`${folder}/findings/unit.power.yaml:1: unknown key "colour"`),
      );
      expect(lines).toContainEqual(
        expect.stringContaining(`${folder}/shed/rake.yaml:1: no file of this name belongs here`),
      );
      expect(lines.at(-1)).toBe(`${lines.length - 1} mistake(s) in 3 file(s)`);
    },
    SLOW,
  );

  test(
    'with a mistake: the program does not start, names the first, and keeps nothing of it',
    () => {
      const folder = overlay('half', { 'scale.yaml': 'usually: often\n' });
      const problem = thrownBy(() => loadFolder(folder));
      expect(problem).toBeInstanceOf(UsageProblem);
      expect((problem as Error).message).toContain(
        `mistake(s), the first: ${folder}/scale.yaml:1: "usually" is not as expected`,
      );
      expect(cached()).toEqual([]);
    },
    SLOW,
  );

  test(
    'with a phrase that no example uses: shown with its file and line, exit code 2',
    async () => {
      const path = realTexts().find((t) => t.path.startsWith('topics/'))?.path ?? '';
      const lines = ours(path).split('\n');
      const at = lines.indexOf('phrases:') + 1;
      expect(at).toBeGreaterThan(0);
      const phrase = lines[at]?.replace(/- .*/, '- zebra umbrella xylophone') ?? '';
      const folder = overlay('phrase', { [path]: lines.toSpliced(at, 0, phrase).join('\n') });
      const { code, lines: out } = await shown(folder);
      expect(code).toBe(2);
      expect(out).toContainEqual(
        expect.stringMatching(
          new RegExp(`^${folder}/${path}:${at + 1}: this phrase occurs in no example: "zebra umbrella xylophone"`),
        ),
      );
    },
    SLOW,
  );

  test('that is no folder', () => {
    expect(() => loadFolder(join(base, 'nowhere'))).toThrow(/cannot be read: give the path of an existing folder/);
  });

  test(
    'without a mistake is checked once; what is kept of it gives the same facts',
    () => {
      const folder = overlay('fine', { 'language/shed.yaml': 'shed-word:\n  words: [shed]\n' });
      const first = loadFolder(folder);
      expect(cached()).toEqual([`knowledge-${first.hash}.json`]);
      const second = loadFolder(folder);
      expect(second).not.toBe(first);
      const {
        costs: { remedy, ...costs },
        ...facts
      } = second;
      const {
        costs: { remedy: firstRemedy, ...firstCosts },
        ...firstFacts
      } = first;
      expect(facts).toEqual(firstFacts);
      expect(costs).toEqual(firstCosts);
      expect(remedy('hand-over', 'homeowner')).toBe(firstRemedy('hand-over', 'homeowner'));
      expect(second.concepts.get('shed-word')?.words).toEqual(['shed']);
    },
    SLOW,
  );
});

test('the small folder from its checked data is the small folder', () => {
  const loaded = loadKnowledge(smallFolder(), 'small');
  if (!loaded.ok) throw new Error('the small folder has mistakes');
  const { costs, ...facts } = fromRaw(JSON.parse(JSON.stringify(loaded.raw)) as typeof loaded.raw, 'small');
  const { costs: own, ...ownFacts } = loaded.knowledge;
  expect(facts).toEqual(ownFacts);
  expect(costs.remedy('new-seal', 'homeowner')).toBe(own.remedy('new-seal', 'homeowner'));
  expect(() => costs.remedy('no-such', 'homeowner')).toThrow('no cost for the remedy no-such');
});
