/** The talk in the terminal: on a pipe, and in a real terminal that `tmux` gives us where it is installed. */
import { execFileSync, spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, describe, expect, it } from 'vitest';
import type { Answer } from '../../src/message/outgoing.js';
import { openStore, type KeptMessage } from '../../src/store/store.js';
import { environment, jsonLines, MAIN, newFolder, outLines, run } from './program.js';

const newStore = (): string => join(newFolder(), 'cases.db');
const CODE = /[2-9A-Z]{8}/;

/** The one case of a store, with what was said in it. */
function theCase(db: string): { code: string; messages: KeptMessage[]; last: Answer | null } {
  const store = openStore(db);
  try {
    const [only, ...others] = store.openCases('terminal');
    expect(others).toEqual([]);
    const code = only?.caseId ?? '';
    return { code, messages: only ? store.messages(code) : [], last: store.lastAnswer(code) };
  } finally {
    store.close();
  }
}

/** Chats on a pipe with these lines, and must end with 0. */
async function chat(db: string, lines: readonly string[], words: readonly string[] = []): Promise<string> {
  const { code, out, err } = await run(['chat', '--db', db, ...words], lines.map((l) => `${l}\n`).join(''));
  expect({ code, err }).toEqual({ code: 0, err: '' });
  return out;
}

describe.concurrent('on a pipe', () => {
  it('says first who it is and how to reach a person, and ends with 0 when nothing is said', async () => {
    const db = newStore();
    const out = await chat(db, []);
    expect(out).toContain('a program, not a person');
    expect(out).toContain('a person please');
    expect(theCase(db).messages).toEqual([]);
  });

  it('asks a useful first question, with numbered choices that end with "not sure"', async () => {
    const db = newStore();
    const out = await chat(db, ['hello']);
    const { code, last } = theCase(db);
    expect(last?.ask?.finding).toBeTruthy();
    expect(last?.ask?.choices.at(-1)?.value).toBe('not-sure');
    last?.ask?.choices.forEach((choice, i) => expect(outLines(out)).toContain(`  ${i + 1}. ${choice.label}`));
    expect(out).toContain(last?.ask?.text);
    expect(out).toContain(code);
  });

  it('takes free text, then a number for a choice, then a word', async () => {
    const db = newStore();
    const out = await chat(db, ['frost on the back wall of the freezer', '2', 'not sure', '']);
    const { code, messages } = theCase(db);
    expect(messages.map((m) => m.said)).toEqual([
      { kind: 'text', text: 'frost on the back wall of the freezer' },
      { kind: 'text', text: '2' },
      { kind: 'text', text: 'not sure' },
    ]);
    const [first, second, third] = messages.map((m) => m.answer);
    expect(first?.understood).toMatchObject([{ finding: 'frost.location', value: 'freezer-back-wall' }]);
    const { finding, choices } = first?.ask ?? { finding: null, choices: [] };
    expect(second?.understood).toMatchObject([{ finding, value: choices[1]?.value, denied: false, confidence: 1 }]);
    expect(third?.understood).toMatchObject([{ finding: second?.ask?.finding, value: 'not-sure' }]);
    for (const answer of [first, second, third]) expect(out).toContain(answer?.reply);
    // the take-up code is the last thing said
    expect(outLines(out.trim()).at(-1)).toContain(code);
    expect(code).toMatch(CODE);
  });

  it('speaks to a technician in the words of the trade', async () => {
    const [plain, trade] = await Promise.all([
      chat(newStore(), ['hello']),
      chat(newStore(), ['hello'], ['--role', 'technician']),
    ]);
    expect(trade).not.toBe(plain);
    expect(trade.length).toBeGreaterThan(0);
  });

  it('shows what to do about a danger at once', async () => {
    const db = newStore();
    const out = await chat(db, ['there is a burning smell from the plug']);
    expect(out).toContain('STOP');
    expect(theCase(db).last).toMatchObject({
      status: 'escalated',
      hazards: [{ hazard: 'burning-smell', level: 'stop' }],
    });
  });
});

describe.concurrent('a case taken up again', () => {
  it('goes on where it was, by its code in capitals or not', async () => {
    const db = newStore();
    await chat(db, ['frost on the back wall of the freezer']);
    const { code, last } = theCase(db);
    const again = await chat(db, ['1'], ['--case', code.toLowerCase()]);
    expect(again).toContain(code);
    expect(again).toContain(last?.ask?.text);
    last?.ask?.choices.forEach((choice, i) => expect(again).toContain(`  ${i + 1}. ${choice.label}`));
    const after = theCase(db);
    expect(after.code).toBe(code);
    expect(after.messages).toHaveLength(2);
    expect(after.last?.understood).toMatchObject([
      { finding: last?.ask?.finding, value: last?.ask?.choices[0]?.value },
    ]);
  });

  it('may come from another channel', async () => {
    const db = newStore();
    const line = { case: 'k1', from: { id: 'u1', role: 'homeowner' }, text: 'frost on the back wall' };
    const { out } = await run(['stdio', '--db', db], jsonLines([line]));
    const { caseId, reply } = JSON.parse(out) as Answer;
    const again = await chat(db, ['not sure'], ['--case', caseId]);
    expect(again).toContain(reply);
    expect(theCase(db)).toMatchObject({ code: caseId, messages: [{}, {}] });
  });

  it.each([
    ['--case', 'NOPE2345'],
    ['--role', 'plumber'],
    ['--colour', 'blue'],
  ])('ends with 2 and one line on %s %s', async (...words) => {
    const { code, out, err } = await run(['chat', '--db', newStore(), ...words], 'hello\n');
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(outLines(err)).toHaveLength(1);
    expect(err).toContain(words[0] === '--colour' ? '--colour' : words[1]);
  });
});

const hasTmux = spawnSync('tmux', ['-V']).status === 0;
if (!hasTmux) console.warn('tmux is not installed: the tests of the real terminal are skipped');

/** A terminal, tall enough for a whole talk, with the program in it, driven by keys. */
class Terminal {
  private readonly folder = newFolder();

  constructor(command: readonly string[]) {
    const line = [process.execPath, MAIN, ...command].map((w) => `'${w}'`).join(' ');
    this.tmux(
      '-f',
      '/dev/null',
      'new-session',
      '-d',
      '-x',
      '100',
      '-y',
      '300',
      `${line}; echo "ended with $?"; sleep 300`,
    );
  }

  private tmux(...args: string[]): string {
    const env = environment({ TMUX_TMPDIR: this.folder, TERM: 'xterm-256color', LANG: 'C.UTF-8', SHELL: '/bin/sh' });
    return execFileSync('tmux', ['-u', ...args], { env, encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] });
  }

  /** What is on the screen, without empty lines. */
  screen(): string[] {
    return this.tmux('capture-pane', '-p')
      .split('\n')
      .filter((l) => l.trim() !== '');
  }

  /** Presses keys (Down, Enter, C-c) one after the other, each when the screen is at rest. */
  async press(...keys: string[]): Promise<void> {
    for (const key of keys) {
      this.tmux('send-keys', key);
      await this.rest();
    }
  }

  async type(text: string): Promise<void> {
    this.tmux('send-keys', '-l', text);
    await this.shows(text);
  }

  /** Waits until a line of the screen holds this. */
  async shows(part: string | RegExp): Promise<string[]> {
    for (let i = 0; i < 400; i += 1) {
      const lines = this.screen();
      if (lines.some((l) => (typeof part === 'string' ? l.includes(part) : part.test(l)))) return lines;
      await wait(50);
    }
    throw new Error(`"${String(part)}" does not show:\n${this.screen().join('\n')}`);
  }

  private async rest(): Promise<void> {
    let before = '';
    for (let i = 0; i < 100; i += 1) {
      await wait(60);
      const now = this.screen().join('\n');
      if (now === before) return;
      before = now;
    }
  }

  end(): void {
    spawnSync('tmux', ['kill-server'], { env: environment({ TMUX_TMPDIR: this.folder }) });
  }
}

describe.skipIf(!hasTmux)('in a real terminal', () => {
  const open: Terminal[] = [];
  afterAll(() => open.forEach((t) => t.end()));
  const terminal = (...command: string[]): Terminal => {
    const t = new Terminal(command);
    open.push(t);
    return t;
  };
  /** The prompt is up and waits. */
  const PROMPT = /^> .*\u2588/;
  /** So many messages are stored, and the prompt is up again. */
  const stored = async (t: Terminal, db: string, messages: number): Promise<ReturnType<typeof theCase>> => {
    for (let i = 0; i < 400 && theCase(db).messages.length < messages; i += 1) await wait(50);
    await t.shows(PROMPT);
    const now = theCase(db);
    expect(now.messages).toHaveLength(messages);
    return now;
  };

  it('arrows choose, typed words win, numbers count, and Ctrl-C leaves with the take-up code', async () => {
    const db = newStore();
    const t = terminal('chat', '--db', db);
    await t.shows(PROMPT);
    await t.press('Down');
    expect((await t.shows(/^> 1\. /)).join('\n')).toMatch(/^ {2}2\. /m);
    await t.press('Enter');
    await t.shows('in your own words');
    await t.shows(PROMPT);
    await t.press('Enter');
    await t.shows('type your answer');
    await t.type('frost on the back wall of the freezer');
    await t.press('Enter');
    const first = (await stored(t, db, 1)).last?.ask;

    await t.press('Down', 'Down');
    await t.shows(`> 2. ${first?.choices[1]?.label}`);
    await t.press('Enter');
    await t.shows(`> ${first?.choices[1]?.label}`);
    const second = await stored(t, db, 2);
    expect(second.messages.at(-1)?.said).toEqual({
      kind: 'answer',
      finding: first?.finding,
      value: first?.choices[1]?.value,
    });

    await t.press('Up');
    const choices = second.last?.ask?.choices ?? [];
    await t.shows(`> ${choices.length}. ${choices.at(-1)?.label}`);
    await t.type('I do not know');
    await t.press('Enter');
    await t.shows('> I do not know');
    const third = await stored(t, db, 3);
    expect(third.messages.at(-1)?.said).toEqual({ kind: 'text', text: 'I do not know' });

    const asked = third.last?.ask;
    await t.type(String(asked?.choices.length));
    await t.press('Enter');
    const fourth = await stored(t, db, 4);
    expect(fourth.last?.understood).toMatchObject([{ finding: asked?.finding ?? asked?.reading, value: 'not-sure' }]);

    await t.press('C-c');
    const screen = await t.shows('ended with 0');
    expect(screen.some((l) => l.includes(fourth.code))).toBe(true);
    t.end();

    // open cases are offered at the next start
    const next = terminal('chat', '--role', 'homeowner', '--db', db);
    await next.shows(fourth.code);
    await next.press('Down', 'Enter');
    await next.shows('where we were');
    await next.shows(PROMPT);
    await next.press('C-d');
    await next.shows('ended with 0');
    expect(theCase(db).messages).toHaveLength(4);
  }, 60_000);

  it('Ctrl-C leaves before anything is said, too', async () => {
    const db = newStore();
    const t = terminal('chat', '--db', db);
    await t.shows(PROMPT);
    await t.press('C-c');
    await t.shows('ended with 0');
    expect(theCase(db).messages).toEqual([]);
  });

  it('breaks long lines between words', async () => {
    const t = terminal('chat', '--role', 'homeowner', '--db', newStore());
    await t.shows(PROMPT);
    const whole = t.screen().join(' ');
    for (const word of ['not a person', 'come back to it', 'a person please']) expect(whole).toContain(word);
  });
});
