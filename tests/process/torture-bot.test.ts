/** The short form of `npm run torture -- --bot`: a bot that is killed loses nothing that it answered, and says nothing twice. */
import { join } from 'node:path';
import Sqlite from 'better-sqlite3';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { realKnowledge } from '../support/knowledge.js';
import { botVictim, type BotVictim } from '../torture/bot-victim.js';
import { judge } from '../torture/judge.js';
import { torment } from '../torture/torment.js';
import { CACHE, MAIN, newFolder } from './program.js';

const KILLS = 3;
const SEED = 20_261_125;

let victim: BotVictim;
beforeAll(async () => {
  victim = await botVictim(MAIN, CACHE, realKnowledge());
});
afterAll(() => victim.discord.stop());

it(`a bot killed ${KILLS} times`, async () => {
  const folder = newFolder();
  const t = await torment({ victim, folder, kills: KILLS, seed: SEED, until: Infinity });
  expect({ losses: t.losses, doubles: t.doubles, unsound: t.unsound }).toEqual({
    losses: [],
    doubles: [],
    unsound: [],
  });
  expect(t).toMatchObject({ kills: KILLS, acknowledged: t.sent, survivors: t.sent, waiting: 0 });
  expect(t.escalations).toBeGreaterThan(0);
  expect({ delivered: t.delivered, atDesk: victim.atDesk() }).toEqual({
    delivered: t.escalations,
    atDesk: t.escalations,
  });
  expect(victim.discord.kept.failures).toEqual([]);
  expect(victim.log.join('')).not.toContain(victim.discord.token);

  // and would have told otherwise
  const db = new Sqlite(join(folder, 'cases.db'));
  db.exec('DELETE FROM messages WHERE seq = 1');
  db.exec("UPDATE outbox SET id = 'elsewhere' WHERE id = (SELECT id FROM outbox WHERE kind = 'answer' LIMIT 1)");
  db.close();
  const after = judge(folder, new Map([['a0', 'an answer']]), victim);
  expect(after.losses).toEqual(
    expect.arrayContaining(['a0 was answered and is not there', 'answer elsewhere was never delivered']),
  );
}, 300_000);
