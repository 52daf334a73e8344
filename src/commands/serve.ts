/** `thawline serve`: the Discord bot. `--check` verifies the settings and what the server allows, and ends. */
import { hostname } from 'node:os';
import { parseArgs } from 'node:util';
import { destination } from 'pino';
import { startBot, type Running } from '../channels/discord/bot.js';
import { checkServer, INVITE_BITS, type Checked } from '../channels/discord/check.js';
import { makeClient } from '../channels/discord/client.js';
import { makeLog, type Log } from '../channels/discord/log.js';
import { troubleOf } from '../channels/discord/outcome.js';
import type { Client, REST } from 'discord.js';
import { wireDiscord } from './discord-front.js';
import { UsageProblem } from './problem.js';
import { keepNoLonger } from './retention.js';
import { readSettings, type Settings } from './settings.js';
import { shardsHere } from './shards.js';

export const help = `thawline serve [--check] [--db FILE]
  The Discord bot. Needs DISCORD_TOKEN and DISCORD_GUILD_ID; README has the ten steps.
  --check   verifies token, server, roles, channel and permissions, says what is missing, and ends`;

export async function run(args: string[]): Promise<number> {
  const { values } = parseArgs({ args, options: { check: { type: 'boolean' }, db: { type: 'string' } } });
  const settings = readSettings(values.db);
  const { token, guild, api } = settings.discord;
  if (token === null) throw new UsageProblem('DISCORD_TOKEN is not set: README says how to get one.');
  if (guild === null)
    throw new UsageProblem('DISCORD_GUILD_ID is not set: the id of the server that the bot works on.');
  const shards = shardsHere(process.env);
  // asked before anything is opened or said
  const asking = makeClient({ api, reads: false, ...shards });
  asking.rest.setToken(token);
  const checked = await askDiscord(asking.rest, settings, guild);
  await asking.destroy();
  if (checked === null) return 1;
  const show = values.check ? process.stdout : process.stderr;
  for (const line of checked.missing) process.stderr.write(`thawline: ${line}\n`);
  if (checked.missing.length > 0) return 2;
  for (const line of checked.notes) show.write(`Note: ${line}\n`);
  if (values.check) {
    process.stdout.write(`Token, server, roles, channel and permissions are right. Invite bits: ${INVITE_BITS}\n`);
    return 0;
  }
  return serve(settings, token, checked, shards);
}

/** Null where Discord could not be reached, said in one line. */
async function askDiscord(rest: REST, { discord }: Settings, guild: string): Promise<Checked | null> {
  try {
    return await checkServer(rest, { ...discord, guild });
  } catch (error) {
    if (troubleOf(error).kind === 'refused') throw error;
    const { message } = error as Error;
    process.stderr.write(`thawline: Discord cannot be reached (${message}): check the network, then start again\n`);
    return null;
  }
}

const LEASE_MS = 30_000;
const DAY_MS = 86_400_000;

async function serve(
  settings: Settings,
  token: string,
  checked: Checked,
  shards: ReturnType<typeof shardsHere>,
): Promise<number> {
  const log = makeLog(token, destination({ fd: 2, sync: true }));
  const { parts, front } = wireDiscord(settings, log);
  const { store } = parts;
  const holder = `${hostname()}:${process.pid}`;
  const renew = (): string | null => {
    const now = Date.now();
    const until = new Date(now + LEASE_MS).toISOString();
    for (const shard of shards.shards) {
      const other = store.leases.take(String(shard), holder, new Date(now).toISOString(), until, hasEnded);
      if (other !== null) return other;
    }
    return null;
  };
  const onRejection = (error: unknown): void => log.error({ err: error }, 'something went wrong and was survived');
  let running: Running | null = null;
  const leave = (): void => void running?.stop();
  const forget = (): void => {
    try {
      keepNoLonger(parts, settings.keepDays);
    } catch (error) {
      log.error({ err: error }, 'what is kept no longer could not be emptied');
    }
  };
  const daily = setInterval(forget, DAY_MS).unref();
  try {
    const other = renew();
    if (other !== null) {
      process.stderr.write(
        `thawline: another bot speaks for this store and shard already (${other}): end that one first\n`,
      );
      return 1;
    }
    process.on('unhandledRejection', onRejection);
    forget();
    const { api } = settings.discord;
    const client: Client = makeClient({ api, reads: checked.reads, ...shards });
    client.rest.setToken(token);
    const { application, reads, self } = checked;
    running = await startBot({ client, front, token, self: self?.id ?? '', application, reads, ...shards, renew });
    process.on('SIGTERM', leave).on('SIGINT', leave);
    log.info({ server: settings.discord.guild, reads }, 'the bot listens');
    const why = await running.ended;
    if (why === null) return 0;
    process.stderr.write(`thawline: ${why}\n`);
    return 1;
  } catch (error) {
    process.stderr.write(`thawline: ${oneLine(error, log)}\n`);
    return 1;
  } finally {
    clearInterval(daily);
    process.off('SIGTERM', leave).off('SIGINT', leave);
    process.off('unhandledRejection', onRejection);
    for (const shard of shards.shards) store.leases.giveBack(String(shard), holder);
    store.close();
  }
}

function oneLine(error: unknown, log: Log): string {
  log.debug({ err: error }, 'the bot could not start');
  return `the bot could not start: ${error instanceof Error ? (error.message.split('\n')[0] ?? '') : String(error)}`;
}

/** A holder of this machine whose process is gone; of another machine nothing can be told but that its time is over. */
function hasEnded(holder: string): boolean {
  const [host, pid] = holder.split(':');
  if (host !== hostname()) return false;
  try {
    process.kill(Number(pid), 0);
    return false;
  } catch (error) {
    return (error as { code?: string }).code === 'ESRCH';
  }
}
