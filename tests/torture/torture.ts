/**
 * `npm run torture [KILLS] [SEED]`: kills the program as often, within 20 minutes, and says what is left. Exit code 1
 * where anything was lost or done twice.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { stdioVictim } from './stdio-victim.js';
import { torment } from './torment.js';

const [kills = 500, seed = 20_260_302] = process.argv.slice(2).map(Number);
const MINUTES = 20;

const folder = mkdtempSync(join(tmpdir(), 'thawline-torture-'));
const began = Date.now();
try {
  const t = await torment({
    victim: stdioVictim(resolve('dist/program/main.js'), join(folder, 'cache')),
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
    ['pages delivered', t.delivered],
    ['pages waiting at the end', t.waiting],
    ['  kills that left a page waiting', t.leftWaiting],
    ['losses', t.losses.length],
    ['doubles', t.doubles.length],
    ['unsound', t.unsound.length],
    ['minutes', ((Date.now() - began) / 60_000).toFixed(1)],
    ['seed', seed],
  ];
  for (const [name, value] of rows) process.stdout.write(`${name.padEnd(72)} ${value}\n`);
  for (const line of [...t.losses, ...t.doubles, ...t.unsound]) process.stdout.write(`${line}\n`);
  const well = t.losses.length + t.doubles.length + t.unsound.length + t.waiting === 0;
  process.exitCode = well && t.kills === kills && t.acknowledged === t.sent ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
