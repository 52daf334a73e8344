// SQL, markup and formulas in every field that a person or the desk can fill: kept as written, shown as words.

import { describe, expect, test } from 'vitest';
import { Conversations } from '../../src/conversation.js';
import { workAtDesk } from '../../src/conversation/desk-work.js';
import { pagesIn } from '../../src/conversation/pages.js';
import { openFile } from '../../src/store/open.js';
import { openStore } from '../../src/store/store.js';
import { temporaryFiles } from '../store/temporary.js';
import { knowledge } from '../turn/a-talk.js';

const newFile = temporaryFiles();
const HOSTILE = [
  "'; DROP TABLE cases; --",
  '" OR 1=1 --',
  "x'); DELETE FROM events; --",
  '%_\\',
  'a\0b',
  '<script>alert(1)</script>',
  '"><img src=x onerror=alert(1)>',
  "' onmouseover='alert(1)",
  '&lt;b&gt; ]]> <!-- ',
  '=HYPERLINK("http://x","y")',
  '@SUM(1)',
  '[x](javascript:alert(1)) # **@everyone** <@123>',
  '{contact} {code} $& $1 \\1',
  '__proto__',
  'constructor',
];

/** Elements and attributes of a page, in order; words left out. */
const bones = (html: string): string[] => html.match(/<[!/a-z][^>]*>/gi) ?? [];

function played(word: string): { tables: unknown[]; html: string; text: string; back: unknown } {
  const path = newFile();
  const store = openStore(path);
  let html = '';
  const now = new Date('2026-11-25T10:00:00Z');
  const talk = new Conversations(knowledge, store, {
    channel: 'stdio',
    contact: word.replaceAll('\0', ''),
    units: 'us',
    greeted: false,
    pagePath: () => 'page.html',
    writePage: (_, __, page) => (html = page ?? ''),
    onTrouble: (_, error) => {
      throw error;
    },
    now: () => now,
  });
  const from = { id: word, role: 'homeowner' as const };
  const say = (text: string): ReturnType<Conversations['handle']> =>
    talk.handle({ conversation: word, from, id: `${word}-${text}`, at: null, said: { kind: 'text', text } });
  const first = say('there is frost in the freezer, a person please');
  if (!first.ok) throw new Error(first.error.message);
  const { caseId } = first.answer;
  for (const act of [
    { act: 'claim' },
    { act: 'ask', text: word },
    { act: 'hand-back', text: word },
    { act: 'claim' },
  ] as const)
    expect(workAtDesk(knowledge, store, caseId, act, word, now)).toMatchObject({ ok: true });
  expect(say(word).ok).toBe(true);
  const close = { act: 'close', cause: 'not-found', fixed: word, parts: word } as const;
  expect(workAtDesk(knowledge, store, caseId, close, word, now)).toMatchObject({ ok: true });
  talk.deliver();
  const text = say('thanks');
  expect(store.caseOf('stdio', word)).toBe(caseId);
  expect(store.rebuild(caseId)).toEqual(store.load(caseId));
  const back = store.messages(caseId).map((m) => [m.person, m.said]);
  store.close();
  const db = openFile(path);
  const tables = db.prepare("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name").pluck().all();
  const body = db.prepare("SELECT body FROM outbox WHERE kind = 'page'").pluck().get() as string;
  db.close();
  return { tables, html: html || (pagesIn(body).html ?? ''), text: text.ok ? text.answer.reply : '', back };
}

describe('in every field', () => {
  const plain = played('Alex');

  test.each(HOSTILE)('%j stays words', (word) => {
    const { tables, html, back } = played(word);
    expect(tables).toEqual(plain.tables);
    expect(back).toEqual(
      JSON.parse(JSON.stringify(plain.back).replaceAll('Alex', () => JSON.stringify(word).slice(1, -1))),
    );
    expect(bones(html).length).toBeGreaterThan(20);
    expect(bones(html)).toEqual(bones(plain.html));
    expect(html).not.toMatch(/<script|<img|javascript:[^<]*>/i);
  });
});

test('take-up codes: no two of 300 the same, in the letters that nobody mixes up', () => {
  const store = openStore(newFile());
  const talk = new Conversations(knowledge, store, {
    channel: 'stdio',
    contact: null,
    units: null,
    greeted: true,
    pagePath: () => null,
    writePage: () => undefined,
    onTrouble: () => undefined,
  });
  // a poll opens nothing, and still draws a code
  const codes = Array.from({ length: 300 }, () => {
    const from = { id: 'u1', role: 'homeowner' } as const;
    const polled = talk.handle({ conversation: 'k', from, id: null, at: null, said: { kind: 'poll' } });
    return polled.ok ? polled.answer.caseId : '';
  });
  store.close();
  expect(new Set(codes).size).toBe(300);
  for (const code of codes) expect(code).toMatch(/^[2-9A-HJKMNP-TV-Z]{8}$/);
});
