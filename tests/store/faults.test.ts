/** A store that gives out under the JSON lines: spoilt somewhere, cut somewhere, or full. The real parts, in one process. */
import { copyFileSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { runStdio } from '../../src/channels/stdio.js';
import { Conversations } from '../../src/conversation.js';
import type { Answer } from '../../src/message/outgoing.js';
import { StoreProblem } from '../../src/store/migrations.js';
import { openFile } from '../../src/store/open.js';
import { openStore, storeIn, type Store } from '../../src/store/store.js';
import { realKnowledge } from '../support/knowledge.js';
import { temporaryFiles } from './temporary.js';
import { around } from '../support/around.js';

const newFile = temporaryFiles();
const knowledge = realKnowledge();
const PAGE = 4096;

const line = (n: number): string =>
  `${JSON.stringify({
    case: 'k1',
    id: `m${n}`,
    from: { id: 'u1', role: 'homeowner' },
    answer: { finding: 'frost.location', value: n % 2 ? 'freezer-back-wall' : 'freezer-floor' },
  })}\n`;

interface Talked {
  readonly finished: boolean;
  readonly answers: readonly Answer[];
  readonly refusals: readonly { readonly code: string; readonly message: string }[];
  readonly troubles: readonly unknown[];
}

async function talk(store: Store, lines: readonly string[]): Promise<Talked> {
  const conversations = new Conversations(knowledge, store, around('stdio'));
  const out: string[] = [];
  const troubles: unknown[] = [];
  const finished = await runStdio(
    (async function* () {
      yield Buffer.from(lines.join(''));
    })(),
    async (text) => void out.push(text),
    (incoming) => conversations.handle(incoming),
    (error) => {
      troubles.push(error);
      return (error as Error).message;
    },
  );
  const said = out.map((l) => JSON.parse(l) as Answer & { error?: { code: string; message: string } });
  return {
    finished,
    answers: said.filter((s) => !s.error),
    refusals: said.flatMap((s) => s.error ?? []),
    troubles,
  };
}

/** A sound store with a case of some length. */
async function soundStore(): Promise<string> {
  const path = newFile();
  const store = openStore(path);
  await talk(
    store,
    Array.from({ length: 12 }, (_, n) => line(n)),
  );
  store.close();
  return path;
}

describe('a store spoilt on one page', () => {
  it('is refused when it is opened or answers with store-unavailable, or was not touched there; never otherwise', async () => {
    const sound = await soundStore();
    const whole = readFileSync(sound);
    let refused = 0;
    for (let page = 1; page * PAGE <= whole.length; page += 1)
      for (const byte of [0x00, 0x5a, 0xff]) {
        const path = newFile();
        const bytes = Buffer.from(whole);
        bytes.fill(byte, (page - 1) * PAGE + (page === 1 ? 100 : 0), page * PAGE);
        writeFileSync(path, bytes);
        let store: Store;
        try {
          store = openStore(path);
        } catch (error) {
          refused += 1;
          expect(error).toBeInstanceOf(StoreProblem);
          expect((error as Error).message).not.toContain('\n');
          expect(readFileSync(path).equals(bytes)).toBe(true);
          continue;
        }
        const { finished, answers, refusals, troubles } = await talk(store, [line(100), line(101)]);
        if (finished) expect(answers).toHaveLength(2);
        else {
          refused += 1;
          expect(refusals).toEqual([{ code: 'store-unavailable', field: '', message: expect.stringContaining(path) }]);
          expect(troubles[0]).toBeInstanceOf(StoreProblem);
          expect(refusals[0]?.message).not.toContain('\n');
        }
        store.close();
      }
    expect(refused).toBeGreaterThan(10);
  });
});

describe('a store that was cut', () => {
  it('is refused untouched wherever it was cut', async () => {
    const sound = await soundStore();
    const whole = readFileSync(sound);
    const cuts = [1, 99, 100, 1000, PAGE, PAGE + 1, whole.length / 2, whole.length - PAGE, whole.length - 1];
    for (const length of cuts) {
      const path = newFile();
      copyFileSync(sound, path);
      truncateSync(path, length);
      const before = readFileSync(path);
      expect(() => openStore(path).close(), `cut to ${length}`).toThrow(StoreProblem);
      expect(readFileSync(path).equals(before)).toBe(true);
    }
  });
});

describe('a store with no room left', () => {
  // SQLite's own limit (pragma max_page_count): the same result code FULL as a full disk
  it('answers with store-unavailable, keeps what it answered, takes nothing half, goes on once there is room', async () => {
    const path = newFile();
    const db = openFile(path);
    db.pragma(`max_page_count = ${(db.pragma('page_count', { simple: true }) as number) + 12}`);
    const store = storeIn(db, path);
    const lines = Array.from({ length: 60 }, (_, n) => line(n));
    const full = await talk(store, lines);
    expect(full.finished).toBe(false);
    expect(full.refusals).toEqual([
      { code: 'store-unavailable', field: '', message: expect.stringContaining('no room left on the disk') },
    ]);
    expect(full.answers.length).toBeGreaterThan(2);
    expect(full.answers.length).toBeLessThan(lines.length - 1);
    const caseId = full.answers[0]?.caseId ?? '';
    expect(store.messages(caseId).map((m) => m.answer)).toEqual(full.answers);
    expect(store.rebuild(caseId)).toEqual(store.load(caseId));
    store.close();

    const roomy = openStore(path);
    const after = await talk(roomy, lines);
    expect(after.finished).toBe(true);
    expect(after.answers.slice(0, full.answers.length)).toEqual(full.answers);
    roomy.close();
  });
});
