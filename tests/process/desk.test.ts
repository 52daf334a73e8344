/** `thawline desk` and `thawline report` as a technician's shell runs them, on a store that others work on. */
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Answer } from '../../src/message/outgoing.js';
import { jsonLines, newFolder, outLines, run, start, type Ended } from './program.js';

const home = { id: 'u1', role: 'homeowner' };

/** A store with one case that was handed over, and its code. */
async function handedOver(text = 'there is a burning smell'): Promise<{ db: string; code: string }> {
  const db = join(newFolder(), 'cases.db');
  const [answer] = await talk(db, { from: home, text });
  return { db, code: answer?.caseId ?? '' };
}

async function talk(db: string, ...lines: readonly object[]): Promise<Answer[]> {
  const ended = await run(['stdio', '--db', db], jsonLines(lines.map((l) => ({ case: 'k1', ...l }))));
  expect(ended.code).toBe(0);
  return outLines(ended.out).map((line) => JSON.parse(line) as Answer);
}

const desk = (db: string, ...args: readonly string[]): Promise<Ended> => run(['desk', ...args, '--db', db]);
const json = async (db: string, ...args: readonly string[]): Promise<unknown> =>
  JSON.parse((await desk(db, ...args, '--json')).out);

describe('an escalation from the talk to its end', () => {
  it('is listed, claimed, asked back, answered, cleared and closed; the caller is told of each', async () => {
    const { db, code } = await handedOver();
    expect((await desk(db, 'list')).out).toMatch(new RegExp(`^${code}  NOW +Hazard +\\d+ min +waits`));
    expect((await desk(db, 'claim', code, '--as', 'Ana')).code).toBe(0);
    expect((await desk(db, 'ask', code.toLowerCase(), 'Is', 'it', 'rented?', '--as', 'Ana')).code).toBe(0);
    const [poll] = await talk(db, { from: home, poll: true });
    expect(poll?.notes.map((n) => n.from)).toEqual(['desk', 'desk']);
    expect(poll?.notes[1]?.text).toContain('Is it rented?');
    expect(poll?.escalation).toMatchObject({ state: 'claimed', claimedBy: 'Ana' });
    const [answered] = await talk(db, { from: home, text: 'yes, from my landlord' });
    expect(answered?.notes).toEqual([]);
    expect((await desk(db)).out).toContain('the caller has answered');
    const shown = await desk(db, 'show', code);
    for (const words of ['# Hazard, now', 'Ana claimed it', 'Ana asked: Is it rented?', 'u1 answered: yes, from my'])
      expect(shown.out).toContain(words);

    const refused = await desk(db, 'close', code, '--cause', 'not-found', '--as', 'Ana');
    expect(refused).toMatchObject({ code: 1, out: '' });
    expect(refused.err).toContain('A stop hazard stands: burning-smell');
    expect((await desk(db, 'clear', code, 'burning-smell', '--as', 'Ana')).code).toBe(0);
    const args = ['close', code, '--cause', 'evaporator-fan-failed', '--fixed', 'A new fan.', '--parts', 'fan motor'];
    expect((await desk(db, ...args, '--as', 'Ana')).code).toBe(0);
    expect((await desk(db)).out).toBe('Nothing is open.\n');
    const [end] = await talk(db, { from: home, poll: true });
    expect(end).toMatchObject({ status: 'closed', escalation: { state: 'closed', claimedBy: 'Ana' } });
    expect(end?.notes.map((n) => n.text).join(' ')).toContain('A new fan.');
    expect(await json(db, 'show', code)).toMatchObject({
      history: [
        { what: 'escalated' },
        { what: 'claimed', by: 'Ana' },
        { what: 'asked', by: 'Ana' },
        { what: 'answered', by: 'u1' },
        { what: 'cleared', by: 'Ana' },
        { what: 'closed', by: 'Ana', text: 'evaporator-fan-failed; A new fan.; fan motor' },
      ],
    });
  });

  it('is handed back with a word for the next one, who claims it', async () => {
    const { db, code } = await handedOver('a person please');
    await desk(db, 'claim', code, '--as', 'Ana');
    expect((await desk(db, 'hand-back', code, 'needs a lift', '--as', 'Ana')).code).toBe(0);
    expect(await json(db, 'list')).toMatchObject([{ caseId: code, state: 'waiting', claimedBy: null }]);
    expect((await desk(db, 'claim', code, '--as', 'Bo')).code).toBe(0);
    expect((await desk(db, 'show', code)).out).toContain('Ana handed it back: needs a lift');
  });

  it('works while the talk goes on in a process of its own', async () => {
    const { db, code } = await handedOver();
    const caller = start(['stdio', '--db', db]);
    const say = async (line: object): Promise<Answer> => {
      caller.write(JSON.stringify({ case: 'k1', from: home, ...line }));
      return JSON.parse((await caller.next()) ?? 'null') as Answer;
    };
    expect((await say({ poll: true })).notes).toEqual([]);
    await desk(db, 'claim', code, '--as', 'Ana');
    expect((await say({ poll: true })).notes).toHaveLength(1);
    expect((await say({ poll: true })).notes).toEqual([]);
    await desk(db, 'clear', code, 'burning-smell', '--as', 'Ana');
    expect((await say({ text: 'is it safe now?' })).notes).toHaveLength(1);
    caller.child.stdin.end();
    expect((await caller.ended).code).toBe(0);
  });
});

describe('two desks that claim at the same moment', () => {
  const ROUNDS = 3;
  it(`one gets it, the other is told who has it (${ROUNDS} rounds)`, async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const { db, code } = await handedOver();
      const names = ['Ana', 'Bo', 'Cy'];
      const ended = await Promise.all(names.map((name) => desk(db, 'claim', code, '--as', name, '--json')));
      const winners = names.filter((_, i) => ended[i]?.code === 0);
      expect(winners).toHaveLength(1);
      for (const { code: exit, out, err } of ended.filter((e) => e.code !== 0)) {
        expect(exit).toBe(1);
        expect(JSON.parse(out)).toEqual({ ok: false, why: 'taken', by: winners[0] });
        expect(err).toContain(`${winners[0]} has this case`);
      }
      const shown = (await json(db, 'show', code)) as { history: { what: string }[] };
      expect(shown.history.filter((h) => h.what === 'claimed')).toHaveLength(1);
    }
  });
});

describe('what waits too long', () => {
  it('is reminded of once, louder for a danger, and is marked in the list', async () => {
    const db = join(newFolder(), 'cases.db');
    const long = '2026-01-05T10:00:00-05:00';
    const [answer] = await talk(db, { from: home, text: 'there is a burning smell', at: long });
    const first = await desk(db);
    expect(first.err).toMatch(new RegExp(`^!! REMINDER !! Case ${answer?.caseId}`));
    expect(first.out).toContain('OVERDUE');
    const second = await desk(db);
    expect(second).toMatchObject({ err: '', code: 0 });
    expect(second.out).toContain('OVERDUE');
    const [poll] = await talk(db, { from: home, poll: true });
    expect(poll?.notes).toHaveLength(1);
    expect(poll?.notes[0]?.text).toContain('Do not wait');
  });

  it('lists the most urgent first, then the oldest', async () => {
    const db = join(newFolder(), 'cases.db');
    const open = (name: string, text: string, day: number): object => ({
      case: name,
      from: home,
      text,
      at: `2026-01-0${day}T10:00:00Z`,
    });
    const lines = [
      open('old', 'a person please', 1),
      open('danger', 'there is a burning smell', 3),
      open('older danger', 'I smell gas', 2),
      open('new', 'a person please', 4),
    ];
    const answers = outLines((await run(['stdio', '--db', db], jsonLines(lines))).out).map(
      (l) => (JSON.parse(l) as Answer).caseId,
    );
    const listed = ((await json(db, 'list')) as { caseId: string }[]).map((w) => w.caseId);
    expect(listed).toEqual([answers[2], answers[1], answers[0], answers[3]]);
  });
});

describe('words that make no sense', () => {
  const SENSELESS = [
    [['dance'], 'nothing the desk does'],
    [['claim'], 'name the case'],
    [['claim', 'NONE2222'], 'no case with the code NONE2222 was handed over'],
    [['show', 'NONE2222'], 'no case with the code NONE2222 was handed over'],
    [['ask', 'NONE2222'], 'write what to ask'],
    [['close', 'NONE2222'], 'name the confirmed cause'],
    [['claim', 'NONE2222', '--as', ' '], 'name yourself'],
    [['claim', 'NONE2222', '--as', 'x'.repeat(61)], 'at the most'],
    [['ask', 'NONE2222', 'x'.repeat(1001)], 'at the most'],
    [['claim', 'NONE2222', 'now'], 'is too much'],
    [['--bogus'], '--bogus'],
  ] as const;
  it('are answered in one line, with exit code 2', async () => {
    const db = join(newFolder(), 'cases.db');
    const all = await Promise.all(SENSELESS.map(([args]) => desk(db, ...args)));
    all.forEach((ended, i) => {
      expect(ended, JSON.stringify(SENSELESS[i])).toMatchObject({ code: 2, out: '' });
      expect(ended.err.trim().split('\n')).toHaveLength(1);
      expect(ended.err).toContain(SENSELESS[i]?.[1]);
    });
  });

  it('a cause and a hazard that are not there name those that are', async () => {
    const { db, code } = await handedOver();
    await desk(db, 'claim', code, '--as', 'Ana');
    const hazard = await desk(db, 'clear', code, 'injury', '--as', 'Ana');
    expect(hazard).toMatchObject({ code: 2 });
    expect(hazard.err).toContain('Standing: burning-smell');
    const cause = await desk(db, 'close', code, '--cause', 'gremlins', '--as', 'Ana');
    expect(cause).toMatchObject({ code: 2 });
    expect(cause.err).toContain('drain-iced');
    expect(cause.err).toContain('not-found');
  });

  it('a name with signs that turn a line round is made plain', async () => {
    const { db, code } = await handedOver();
    await desk(db, 'claim', code, '--as', 'A\u202ena\u0007');
    expect(await json(db, 'list')).toMatchObject([{ claimedBy: 'A na' }]);
  });
});

describe('the report', () => {
  it('of a store counts its closed cases, and only those', async () => {
    const { db, code } = await handedOver('a person please');
    expect(JSON.parse((await run(['report', '--json', '--db', db])).out)).toMatchObject({ cases: 0 });
    await desk(db, 'claim', code, '--as', 'Ana');
    await desk(db, 'close', code, '--cause', 'gasket-failed', '--as', 'Ana');
    expect(JSON.parse((await run(['report', '--json', '--db', db])).out)).toMatchObject({
      cases: 1,
      invented: false,
      causes: { 'gasket-failed': 1 },
      closedAs: { desk: 1 },
    });
    const text = await run(['report', '--db', db]);
    expect(text).toMatchObject({ code: 0, err: '' });
    expect(text.out).toContain('1 closed cases');
    expect(text.out).not.toContain('INVENTED');
  });

  it('of invented outcomes says so in every form, and needs no store', async () => {
    const [text, asJson, csv] = await Promise.all([
      run(['report', '--demo']),
      run(['report', '--demo', '--json']),
      run(['report', '--demo', '--csv']),
    ]);
    expect(text.out).toMatch(/^INVENTED OUTCOMES: 500/);
    expect(JSON.parse(asJson.out)).toMatchObject({ invented: true, cases: 500 });
    expect(csv.out.split('\r\n')[1]).toBe('cases,,,500,,true');
    expect((await run(['report', '--demo'])).out).toBe(text.out);
    expect((await run(['report', '--demo', '--seed', '2'])).out).not.toBe(text.out);
  });

  it.each([
    [['--json', '--csv'], 'either'],
    [['--seed', '1'], 'go with --demo'],
    [['--demo', '--cases', '0'], 'a whole number'],
    [['--demo', '--seed', 'x'], 'a whole number'],
  ])('%j: one line, exit code 2', async (args, words) => {
    const ended = await run(['report', ...args]);
    expect(ended).toMatchObject({ code: 2, out: '' });
    expect(ended.err).toContain(words);
  });
});

describe('the terminal', () => {
  it('shows what waited when a case is taken up again', async () => {
    const { db, code } = await handedOver('a person please');
    await desk(db, 'claim', code, '--as', 'Ana');
    const first = await run(['chat', '--case', code, '--db', db]);
    expect(first.out).toContain('Ana has your case now.');
    const [poll] = await talk(db, { case: 'k1', from: { id: 'terminal', role: 'homeowner' }, poll: true });
    expect(poll?.notes).toEqual([]);
  });
});
