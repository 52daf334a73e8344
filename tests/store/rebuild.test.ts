/** The state kept beside the events is the state that the events give, after whole talks. */
import { existsSync, readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { play } from '../../src/channels/replay.js';
import { readTranscript } from '../../src/commands/replay.js';
import { Conversations } from '../../src/conversation.js';
import type { Incoming, Said } from '../../src/message/incoming.js';
import { openFile } from '../../src/store/open.js';
import { openStore } from '../../src/store/store.js';
import { realKnowledge } from '../support/knowledge.js';
import { temporaryFiles } from './temporary.js';

const newFile = temporaryFiles();

function conversing(
  path: string,
  units: 'us' | 'si' | null,
): { store: ReturnType<typeof openStore>; talk: Conversations } {
  const store = openStore(path);
  const talk = new Conversations(realKnowledge(), store, {
    channel: 'stdio',
    contact: null,
    units,
    greeted: false,
    pagePath: () => null,
    writePage: () => undefined,
    onTrouble: (_, error) => {
      throw error;
    },
    now: () => new Date('2026-03-02T23:30:00Z'),
  });
  return { store, talk };
}

function types(path: string): Set<unknown> {
  const db = openFile(path);
  const seen = new Set(db.prepare('SELECT DISTINCT type FROM events').pluck().all());
  db.close();
  return seen;
}

describe('rebuild equals load', () => {
  it('after every message of a long talk with two people, corrections, a danger and an end', () => {
    const path = newFile();
    const { store, talk } = conversing(path, 'us');
    let n = 0;
    const say = (said: Said | string, role: Incoming['from']['role'] = 'homeowner', id = 'u1'): void => {
      const handled = talk.handle({
        conversation: 'k1',
        from: { id, role },
        id: `m${(n += 1)}`,
        at: new Date(Date.UTC(2026, 2, 2, 18, n)).toISOString(),
        said: typeof said === 'string' ? { kind: 'text', text: said } : said,
      });
      expect(handled.ok, JSON.stringify(said)).toBe(true);
      const caseId = handled.ok ? handled.answer.caseId : '';
      const state = store.load(caseId);
      expect(state).not.toBeNull();
      expect(store.rebuild(caseId), JSON.stringify(said)).toEqual(state);
    };
    const answers = (finding: string, value: string | string[]): Said => ({ kind: 'answer', finding, value });
    say('hello');
    say('there is thick frost on the back wall of my freezer');
    say('it is a side by side');
    say('sorry, I meant it is a top freezer');
    say('mumble jumble xyzzy');
    say(answers('frost.location', ['freezer-back-wall', 'freezer-floor']));
    say(answers('frost.kind', 'not-sure'));
    say('go back');
    say({ kind: 'poll' });
    say(answers('person.live-work', 'yes'), 'technician', 'u2');
    say(
      { kind: 'reading', reading: { part: 'defrost-heater', quantity: 'resistance', value: 'OL' } },
      'technician',
      'u2',
    );
    say({ kind: 'reading', reading: { part: 'defrost-heater', quantity: 'resistance', value: 'OL' } }, 'senior', 'u3');
    say(answers('supply.voltage', 'not-sure'), 'technician', 'u2');
    say(answers('repair.result', 'no-change'), 'technician', 'u2');
    say('there is a burning smell');
    say('no, there is no burning smell, I was wrong');
    say('yes');
    say('can I talk to a person please');
    say(answers('repair.result', 'fixed'));
    say('the frost is back again');
    const seen = types(path);
    for (const type of [
      'opened',
      'units-chosen',
      'heard',
      'found',
      'withdrawn',
      'measured',
      'unmeasurable',
      'asked',
      'advised',
      'misunderstood',
      'hazard-raised',
      'escalated',
      'person-asked',
      'closed',
      'reopened',
    ])
      expect([...seen]).toContain(type);
    store.close();
  });

  const folder = fileURLToPath(new URL('../../demo-transcripts/', import.meta.url));
  const transcripts = existsSync(folder) ? readdirSync(folder).filter((f) => f.endsWith('.yaml')) : [];
  it.each(transcripts)('after %s', (file) => {
    const path = newFile();
    const { store, talk } = conversing(path, null);
    play(readTranscript(folder + file), file, (incoming) => talk.handle(incoming));
    const caseId = store.caseOf('stdio', file) ?? '';
    expect(store.load(caseId)).not.toBeNull();
    expect(store.rebuild(caseId)).toEqual(store.load(caseId));
    store.close();
  });
});
