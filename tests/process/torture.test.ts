/** The short form of `npm run torture`: nothing acknowledged is lost, nothing is done twice, whenever a program is killed. */
import Sqlite from 'better-sqlite3';
import { readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { judge } from '../torture/judge.js';
import { stdioVictim } from '../torture/stdio-victim.js';
import { torment } from '../torture/torment.js';
import { CACHE, MAIN, newFolder } from './program.js';

const KILLS = 20;
const SEED = 20_261_125;

it(`a program killed ${KILLS} times, alone and beside another, loses nothing and doubles nothing`, async () => {
  const folder = newFolder();
  const victim = stdioVictim(MAIN, CACHE);
  const t = await torment({ victim, folder, kills: KILLS, seed: SEED, until: Infinity });
  expect({ losses: t.losses, doubles: t.doubles, unsound: t.unsound }).toEqual({
    losses: [],
    doubles: [],
    unsound: [],
  });
  expect(t.kills).toBe(KILLS);
  expect(t.beside).toBeGreaterThan(2);
  expect(t.acknowledged).toBe(t.sent);
  expect(t.survivors).toBe(t.acknowledged);
  expect(t.escalations).toBeGreaterThan(2);
  expect(t).toMatchObject({ delivered: t.escalations, waiting: 0 });

  // and would have told otherwise
  const db = new Sqlite(join(folder, 'cases.db'));
  db.exec("DELETE FROM messages WHERE message_id = 'a0'");
  db.exec('UPDATE events SET type = \'heard\', data = \'{"role":"homeowner","kind":"text"}\' WHERE version = 3');
  db.close();
  const [page = ''] = readdirSync(join(folder, 'pages'));
  writeFileSync(join(folder, 'pages', page), 'half a page');
  const after = judge(folder, new Map([['a0', 'an answer']]), victim);
  expect(after.losses).toContain('a0 was answered and is not there');
  expect(after.doubles.some((d) => d.includes('heard'))).toBe(true);
  expect(after.doubles.some((d) => d.includes('page that was delivered'))).toBe(true);
  expect(after.unsound.some((d) => d.includes('its state is not'))).toBe(true);
}, 300_000);
