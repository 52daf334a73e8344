/**
 * `npm run torture -- [--bot] [KILLS] [SEED]`: kills the JSON-lines program, or the Discord bot, as often, within 20
 * minutes, and says what is left. Exit code 1 where anything was lost or done twice.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Knowledge } from '../../src/knowledge/facts.js';
import { hashOf, readFolders } from '../../src/knowledge/files.js';
import { loadKnowledge } from '../../src/knowledge/load.js';
import { botVictim } from './bot-victim.js';
import { stdioVictim } from './stdio-victim.js';
import { torment } from './torment.js';

const bot = process.argv.includes('--bot');
const [kills = 500, seed = 20_260_302] = process.argv
  .slice(2)
  .filter((word) => word !== '--bot')
  .map(Number);
const MINUTES = 20;
const main = resolve('dist/program/main.js');

const folder = mkdtempSync(join(tmpdir(), 'thawline-torture-'));
const cache = join(folder, 'cache');
const onBot = bot ? await botVictim(main, cache, knowledge()) : null;
const began = Date.now();
try {
  const t = await torment({
    victim: onBot ?? stdioVictim(main, cache),
    folder,
    kills,
    seed,
    until: began + MINUTES * 60_000,
    onKill: (n) => void (n % 50 === 0 && process.stderr.write(`${n} kills\n`)),
  });
  const rows: readonly (readonly [string, string | number])[] = [
    ['kills', t.kills],
    ['  with another program at work on the same store', t.beside],
    ['messages sent', t.sent],
    ['  acknowledged', t.acknowledged],
    ['  survivors (acknowledged, and there with the same answer)', t.survivors],
    ['  stored but not yet answered when the kill came, answered once later', t.storedUnanswered],
    ['hand-overs, each once', t.escalations],
    ['  delivered', t.delivered],
    ...(onBot ? [["  posts for them in the technicians' channel", onBot.atDesk()] as const] : []),
    ['waiting to be delivered at the end', t.waiting],
    ['  kills that left something waiting', t.leftWaiting],
    ['losses', t.losses.length],
    ['doubles', t.doubles.length],
    ['unsound', t.unsound.length],
    ['minutes', ((Date.now() - began) / 60_000).toFixed(1)],
    ['seed', seed],
  ];
  for (const [name, value] of rows) process.stdout.write(`${name.padEnd(72)} ${value}\n`);
  for (const line of [...t.losses, ...t.doubles, ...t.unsound]) process.stdout.write(`${line}\n`);
  const well = t.losses.length + t.doubles.length + t.unsound.length + t.waiting === 0;
  const odd = onBot ? onBot.discord.kept.failures.length + Math.abs(onBot.atDesk() - t.escalations) : 0;
  process.exitCode = well && odd === 0 && t.kills === kills && t.acknowledged === t.sent ? 0 : 1;
} finally {
  await onBot?.discord.stop();
  rmSync(folder, { recursive: true, force: true });
}

function knowledge(): Knowledge {
  const texts = readFolders(resolve('knowledge'), null);
  const loaded = loadKnowledge(texts, hashOf(texts, 'torture'));
  if (!loaded.ok) throw new Error('the knowledge folder has mistakes: thawline knowledge');
  return loaded.knowledge;
}
