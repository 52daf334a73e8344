// The desk on a terminal: given what is open, when these are chosen or typed, then this is done and shown.

import { expect, test } from 'vitest';
import type { Screen } from '../../src/channels/terminal.js';
import { board } from '../../src/commands/desk-board.js';
import { Office } from '../../src/commands/desk-office.js';
import { desk, knowledge, type Desk } from '../desk/a-desk.js';

interface Seen {
  readonly shown: string;
  /** the choices of each question, by their labels */
  readonly asked: readonly (readonly string[])[];
}

/** Plays inputs in turn and leaves after the last; a number picks that choice. */
async function play(d: Desk, by: string, ...inputs: readonly (number | string)[]): Promise<Seen> {
  const shown: string[] = [];
  const asked: string[][] = [];
  const left = [...inputs];
  const screen: Screen = {
    show: (text) => void shown.push(text),
    ask: async (choices) => {
      asked.push(choices.map((c) => c.label));
      const input = left.shift();
      if (input === undefined) return null;
      if (typeof input === 'string') return { typed: input };
      const choice = choices[input - 1];
      if (!choice) throw new Error(`there is no choice ${input}`);
      return { chosen: choice.value };
    },
  };
  const office = new Office({ knowledge, store: d.store, conversations: d.talk }, d.now);
  expect(await board(knowledge, office, by, screen)).toBe(0);
  return { shown: shown.join('\n'), asked };
}

const escalated = (text = 'there is a burning smell'): Desk => {
  const d = desk();
  d.says(text);
  return d;
};

test('an empty desk says so, and is left', async () => {
  const { shown, asked } = await play(desk(), 'Ana');
  expect(shown).toBe('Nothing is open.');
  expect(asked).toEqual([['Look again']]);
});

test('a case is picked, read, claimed; only then may it be worked on', async () => {
  const d = escalated();
  const { shown, asked } = await play(d, 'Ana', 1, 1);
  expect(asked[0]?.[0]).toContain(d.caseId());
  expect(asked[0]?.[0]).toContain('burning smell');
  expect(shown).toContain('# Hazard, now');
  expect(asked[1]).toEqual(['Claim it', 'Back to the list']);
  expect(shown).toContain(`${d.caseId()} is yours.`);
  expect(asked[2]).toEqual([
    'Ask the caller something',
    'Hand it back',
    'Close it with the confirmed cause',
    expect.stringContaining('Clear the hazard'),
    'Back to the list',
  ]);
  expect(d.store.load(d.caseId())?.escalation?.claimedBy).toBe('Ana');
});

test('a number and a code may be typed as well', async () => {
  const d = escalated();
  await play(d, 'Ana', d.caseId().toLowerCase(), '1');
  expect(d.store.load(d.caseId())?.escalation?.claimedBy).toBe('Ana');
});

test('asked, cleared, closed with cause, what fixed it and parts', async () => {
  const d = escalated();
  const { shown } = await play(d, 'Ana', 1, 1, 1, 'Is it rented?', 4, 3, 'evaporator-fan-failed', 'a new fan', 1);
  expect(shown).toContain('Asked.');
  expect(shown).toContain('Hazard cleared');
  expect(shown).toContain('is closed');
  expect(d.store.events(d.caseId()).find((e) => e.type === 'cause-confirmed')).toMatchObject({
    by: 'Ana',
    cause: 'evaporator-fan-failed',
    fixed: 'a new fan',
    parts: null,
  });
  expect(d.polls().status).toBe('closed');
});

test('a hazard that stands keeps it open, and the reason is shown', async () => {
  const d = escalated();
  const { shown } = await play(d, 'Ana', 1, 1, 3, 'not-found', 1, 1);
  expect(shown).toContain('A stop hazard stands: burning-smell');
  expect(d.store.load(d.caseId())?.closed).toBe(false);
});

test('what another has can be read, not touched', async () => {
  const d = escalated();
  d.acts({ act: 'claim' }, 'Bo');
  const { shown, asked } = await play(d, 'Ana', 1);
  expect(asked[0]?.[0]).toContain('Bo has it');
  expect(asked[1]).toEqual(['Back to the list']);
  expect(shown).toContain('Bo claimed it');
});

test('given another is faster, then the reason is shown', async () => {
  const d = escalated();
  const office = new Office({ knowledge, store: d.store, conversations: d.talk }, d.now);
  const shown: string[] = [];
  let turn = 0;
  const screen: Screen = {
    show: (text) => void shown.push(text),
    ask: async () => {
      turn += 1;
      if (turn === 2) d.acts({ act: 'claim' }, 'Bo');
      return turn > 2 ? null : { typed: '1' };
    },
  };
  await board(knowledge, office, 'Ana', screen);
  expect(shown.join('\n')).toContain('Bo has this case since 10:00. Ask Bo to hand it back.');
});

test('what waits too long is reminded of once', async () => {
  const d = escalated();
  d.later(1);
  const { shown } = await play(d, 'Ana', 2);
  expect(shown.match(/REMINDER/g)).toHaveLength(1);
  expect((await play(d, 'Ana')).shown).not.toContain('REMINDER');
});
