/**
 * The Discord bot in a process of its own against the stand-in: 500 presses at once beside a bot that only acknowledges,
 * and the memory it takes with 10,000 open cases and their threads.
 */
import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import type { Knowledge } from '../../src/knowledge/facts.js';
import { BOT_PERMISSIONS } from '../discord/bot-permissions.js';
import { startStandIn, type StandIn } from '../discord/stand-in/stand-in.js';
import type { Said } from '../discord/stand-in/said.js';
import { fillStore } from './open-cases.js';
import { figuresOf, type Figures } from './samples.js';

const PRESSES = 500;
const WARM_UP = 50;
const ROUNDS = 3;
const CASES = 10_000;
const HEARD = 10_000;
/** until a bot has done what a round leaves to do but for its posts, which Discord's limits stretch */
const PAUSE_MS = 4000;
const LATEST_MS = 20_000;

export interface TapFigures {
  readonly figures: Readonly<Record<string, Figures>>;
  readonly aims: readonly { readonly what: string; readonly value: number; readonly most: number | null }[];
}

export async function timeTaps(knowledge: Knowledge, main: string, folder: string): Promise<TapFigures> {
  // on a machine that is slow or busy a late acknowledgement is measured too, not refused
  const discord = await startStandIn({ botPermissions: BOT_PERMISSIONS, stillClock: true });
  try {
    const empty = await serving(discord, main, join(folder, 'no-cases.db'), async ({ megabytes }) => megabytes());
    const questions = await people(discord);
    const db = join(folder, 'open-cases.db');
    const ids = fillStore(
      knowledge,
      db,
      questions.map(({ thread, owner, said }) => ({
        guild: discord.guild.id,
        parent: discord.channel.id,
        thread: thread.id,
        owner: owner.id,
        seen: said.id,
      })),
    );
    let next = 0;
    const press = async (times: number): Promise<number[]> => {
      const begun = discord.interactions.length;
      for (let n = 0; n < times; n += 1, next += 1) {
        const { owner, said } = questions[next] ?? {};
        if (owner && said) discord.people.pressStale(owner, said, ids[next] ?? '');
      }
      const given = discord.interactions.slice(begun);
      const done = (): boolean => given.every((g) => g.answer !== undefined);
      await discord.until(done, LATEST_MS).catch(() => undefined);
      await wait(PAUSE_MS);
      return given.flatMap((g) => g.answer?.afterMs ?? []);
    };
    const rounds = async (): Promise<number[]> => {
      // until it has read all that a session begins with, and its code is warm
      for (let tries = 0; tries < 20 && (await press(WARM_UP)).length < WARM_UP; tries += 1);
      const times: number[] = [];
      for (let round = 0; round < ROUNDS; round += 1) times.push(...(await press(PRESSES)));
      return times;
    };
    const least = await acknowledging(discord, rounds);
    next = 0;
    const ours = await serving(discord, main, db, async ({ megabytes }) => {
      const open = megabytes();
      const times = await rounds();
      for (let n = 0; n < HEARD; n += 1) discord.people.say(questions[0]?.owner ?? discord.bot, discord.channel, 'hm');
      await wait(PAUSE_MS);
      return { open, times, after: megabytes() };
    });
    const figures = {
      'tap to acknowledgement, 500 at once': figuresOf(ours.times),
      '  by a bot that only acknowledges': figuresOf(least),
    };
    const p99 = figures['tap to acknowledgement, 500 at once'].p99;
    const unanswered = PRESSES * ROUNDS - ours.times.length;
    return {
      figures,
      aims: [
        { what: 'taps of 500 at once that were not acknowledged', value: unanswered, most: 0 },
        { what: 'tap to acknowledgement, 500 at once, p99, ms', value: p99, most: 500 },
        {
          what: '  / by a bot that only acknowledges, p99',
          value: p99 / figures['  by a bot that only acknowledges'].p99,
          most: 2,
        },
        { what: 'memory of the bot without a case, MB', value: empty, most: null },
        { what: `  with ${CASES} open cases and their threads, MB`, value: ours.open, most: null },
        { what: `  after ${PRESSES * ROUNDS} taps and ${HEARD} messages, MB`, value: ours.after, most: null },
      ],
    };
  } finally {
    await discord.stop();
  }
}

/** As many people as cases, each with a thread and a message in it. */
async function people(discord: StandIn) {
  const out: {
    readonly owner: ReturnType<StandIn['addUser']>;
    readonly thread: StandIn['channel'];
    readonly said: Said;
  }[] = [];
  for (let n = 0; n < CASES; n += 1) {
    const owner = discord.addUser(`p${n}`);
    const thread = discord.people.thread(owner, discord.channel, { name: `case ${n}` });
    discord.people.invite(thread, discord.bot);
    out.push({ owner, thread, said: discord.people.say(owner, thread, 'frost on the back wall') });
  }
  return out;
}

interface Bot {
  /** resident memory */
  readonly megabytes: () => number;
}

async function running<T>(
  discord: StandIn,
  args: readonly string[],
  env: Readonly<Record<string, string>>,
  work: (bot: Bot) => Promise<T>,
): Promise<T> {
  const all = { ...process.env, ...discord.env(), ...env };
  const child: ChildProcess = spawn(process.execPath, args, { env: all, stdio: ['ignore', 'ignore', 'inherit'] });
  const ended = once(child, 'close');
  try {
    await discord.until(() => discord.gateway.live === 1, 60_000);
    await wait(PAUSE_MS);
    const rss = (): string => execFileSync('ps', ['-o', 'rss=', '-p', String(child.pid)], { encoding: 'utf8' });
    return await work({ megabytes: () => Number(rss()) / 1024 });
  } finally {
    child.kill('SIGTERM');
    await ended;
  }
}

const acknowledging = <T>(discord: StandIn, work: () => Promise<T>): Promise<T> =>
  running(discord, [fileURLToPath(new URL('acknowledging.js', import.meta.url))], {}, work);

const serving = <T>(discord: StandIn, main: string, db: string, work: (bot: Bot) => Promise<T>): Promise<T> =>
  running(discord, [main, 'serve'], { THAWLINE_DB: db, DISCORD_GUILD_ID: discord.guild.id }, work);
