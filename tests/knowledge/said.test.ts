// Every sentence that code asks for by its key stands in knowledge/words.

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { escalationKind, urgency, verdict } from '../../src/message/outgoing.js';
import { readingIn } from '../../src/message/incoming.js';
import { oddsOf } from '../../src/handoff/odds.js';
import { realKnowledge } from '../support/knowledge.js';

const SRC = fileURLToPath(new URL('../../src', import.meta.url));
const sources = readdirSync(SRC, { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.ts'))
  .map((path) => ({ path, code: readFileSync(join(SRC, path), 'utf8') }));

/** The words of chances, by one of each (src/handoff/odds.ts). */
const ODDS = [1, 0.95, 0.7, 0.5, 0.2, 0.05, 0].map(oddsOf);

/** Keys whose end is filled in at run time, with all that may stand there. */
const FAMILIES: Readonly<Record<string, readonly string[]>> = {
  'verdict.': verdict.options,
  'handover.': escalationKind.options,
  'result.': ['better', 'no-change'],
  'degrees.': ['celsius', 'fahrenheit'],
  'terminal.role.': ['homeowner', 'technician'],
  'page.kind.': escalationKind.options,
  'page.urgency.': urgency.options,
  'page.against.': ['sheet', 'rating', 'curve', 'case', 'common-practice'],
  'page.why.': escalationKind.options,
  'page.expected.': ['closed', 'open', 'either'],
  'page.what.': ['frost', 'freezer', 'fresh', 'since'],
  'page.odds.': ODDS,
  'page.print.urgency.': urgency.options,
  'page.print.state.': ['waiting', 'claimed', 'closed'],
  'page.print.': ['stop', 'caution', 'read', 'expected', 'verdict', 'unit', 'room', 'history', 'done'],
  'note.follow-up.': ['temperatures', 'frost', 'quiet'],
  'desk.reminder.': urgency.options,
  'desk.acted.': ['claim', 'ask', 'hand-back', 'clear', 'close'],
  'desk.act.': ['claim', 'ask', 'hand-back', 'close'],
  'desk.did.': ['escalated', 'claimed', 'asked', 'answered', 'handed-back', 'cleared', 'overdue', 'closed'],
  'discord.hint.': readingIn.shape.quantity.options,
  'discord.desk.urgency.': urgency.options,
  'discord.desk.hazard.': ['stop', 'caution'],
  'discord.desk.state.': ['waiting', 'claimed', 'closed'],
  'discord.desk.acted.': ['claim', 'ask', 'hand-back', 'clear', 'close'],
  'discord.desk.form.': ['ask', 'hand-back', 'clear', 'close'],
  'discord.desk.': ['claim', 'ask', 'hand-back', 'clear', 'close'],
  'discord.desk.refused.': [
    'taken',
    'not-claimed',
    'nothing-open',
    'hazards-stand',
    'unknown-cause',
    'unknown-hazard',
    'no-case',
  ],
  'desk.refused.': ['not-claimed', 'nothing-open', 'hazards-stand'],
  'report.cause.': ['not-told', 'not-found'],
  'report.end.': ['desk', 'fixed', 'unanswered'],
  'report.': ['questions', 'days'],
  'picture.unit.': ['ohm', 'kohm', 'mohm', 'degc', 'degf'],
  'picture.sensor.temperature-axis.': ['us', 'si'],
  'picture.sensor.verdict.': verdict.options,
  'report.confidence.': ['given', 'published', 'common-practice', 'from-memory'],
  'report.degrees.': ['us', 'si'],
  'thaw.ready.': ['little', 'some', 'much'],
};

/** The functions that take a key, and at which place: say(knowledge, words, key), the others key first. */
const PLACE: Readonly<Record<string, number>> = { say: 2, text: 0, t: 0, words: 0 };

/** The arguments of the call whose bracket opens at `open`. */
function argumentsFrom(code: string, open: number): string[] {
  const out = [''];
  let depth = 0;
  for (let i = open; i < code.length; i += 1) {
    const c = code[i] ?? '';
    if ('([{'.includes(c)) depth += 1;
    if (')]}'.includes(c)) depth -= 1;
    if (depth === 0) return out;
    if (i === open) continue;
    if (c === ',' && depth === 1) out.push('');
    else out[out.length - 1] += c;
  }
  return out;
}

/** Literal keys and beginnings of keys, by the calls of every source file. */
function asked(): { where: string; key: string; whole: boolean }[] {
  const found: { where: string; key: string; whole: boolean }[] = [];
  for (const { path, code } of sources)
    for (const call of code.matchAll(/(?<![.\w])((?:front\.)?say|text|t|words)\(/g)) {
      const name = call[1] ?? '';
      // the bot's own `say` knows its knowledge
      const place = path.startsWith('channels/discord') && name.endsWith('say') ? 1 : (PLACE[name] ?? 0);
      const argument = argumentsFrom(code, call.index + name.length)[place] ?? '';
      const expression = argument.replaceAll(/[!=]== '[^']*'/g, '');
      const prefix = name === 't' && path.startsWith('handoff') ? 'page.' : '';
      const where = `${path}: ${name}(… ${argument.trim()} …)`;
      for (const [, key = ''] of expression.matchAll(/'([^']+)'/g))
        found.push({ where, key: prefix + key, whole: true });
      for (const [, key = ''] of expression.matchAll(/`([^`$]+)\$\{/g))
        if (key !== 'page.') found.push({ where, key: prefix + key, whole: false });
    }
  return found;
}

const known = realKnowledge().words;
const calls = asked();

test('code asks for sentences by key', () => {
  expect(calls.filter((c) => c.whole).length).toBeGreaterThan(100);
  expect(calls.filter((c) => !c.whole).length).toBeGreaterThanOrEqual(10);
});

test('each key is a text of knowledge/words', () => {
  expect(calls.filter((c) => c.whole && !known.has(c.key)).map((c) => c.where)).toEqual([]);
});

test('each key with an open end has texts for all its ends', () => {
  for (const { key, where } of calls.filter((c) => !c.whole)) {
    expect(
      [...known.keys()].some((text) => text.startsWith(key)),
      where,
    ).toBe(true);
    for (const end of FAMILIES[key] ?? []) expect(known.has(key + end), `${where} with ${end}`).toBe(true);
  }
});

test('the warnings of a step and what is said to an unclear message are texts', () => {
  const code = (path: string): string => sources.find((s) => s.path === path)?.code ?? '';
  const warnings = [...code('safety/permit.ts').matchAll(/warnings\.push\('([^']+)'\)/g)].map((m) => m[1] ?? '');
  const body = /function unclearKey[^]*?\n\}/.exec(code('turn/answer.ts'))?.[0] ?? '';
  const unclear = [...body.matchAll(/(?:return|\?|:) '([^']+)'/g)].map((m) => m[1] ?? '');
  expect(warnings.length).toBeGreaterThanOrEqual(8);
  expect(unclear.length).toBeGreaterThanOrEqual(4);
  expect([...warnings, ...unclear].filter((key) => !known.has(key))).toEqual([]);
});

test('a place that is filled in stands in the words of both readers', () => {
  const places = (text: string): string[] => [...new Set(text.match(/\{[a-zA-Z]+\}/g))].sort();
  const unlike = [...known]
    .filter(([, w]) =>
      places(w.technician).some((p) => !places(w.homeowner).includes(p) && /contact|code|path/.test(p)),
    )
    .map(([key]) => key);
  expect(unlike).toEqual([]);
});
