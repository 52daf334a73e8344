/** The running bot: hears what happens, keeps its lease, empties the outbox, tells what fell due; and its orderly end. */
import {
  Events,
  GatewayDispatchEvents as G,
  InteractionType,
  RESTEvents,
  Routes,
  type APIInteraction,
  type Client,
  type GatewayMessageCreateDispatchData,
  type GatewayMessageDeleteBulkDispatchData,
  type GatewayMessageDeleteDispatchData,
} from 'discord.js';
import type { Limits } from '../fair-queue.js';
import { acknowledge, add, told } from './acknowledge.js';
import type { Bot } from './bot-parts.js';
import { CatchUp } from './catch-up.js';
import { Delivery, type Patience } from './deliver.js';
import { DESK_ROOM, roleOf, type Front } from './front.js';
import { isForUs, onDeleted, onEdited, onWritten, tellTooFast, writtenBy, type Written } from './messages.js';
import { lookForNews } from './news.js';
import { People } from './people.js';
import { onCommand } from './slash.js';
import { slashCommands } from './slash-commands.js';
import { Taken, type Interaction } from './take.js';
import { tappedOf } from './tapped.js';
import { onTap } from './taps.js';
import { Work } from './work.js';

export interface Running {
  readonly client: Client;
  readonly bot: Bot;
  /** settles when it has ended: null after `stop`, else the line that says why */
  readonly ended: Promise<string | null>;
  readonly stop: () => Promise<void>;
}

export interface Start {
  readonly client: Client;
  readonly front: Front;
  readonly token: string;
  readonly self: string;
  readonly application: string;
  readonly reads: boolean;
  readonly shards: readonly number[];
  readonly shardCount: number;
  /** renews the lease; null, or who else holds it */
  readonly renew: () => string | null;
  readonly tickMs?: number;
  readonly patience?: Patience;
  readonly limits?: Limits;
}

/** What is listened to. */
interface Heard {
  readonly [G.InteractionCreate]: APIInteraction;
  readonly [G.MessageCreate]: GatewayMessageCreateDispatchData;
  readonly [G.MessageUpdate]: GatewayMessageCreateDispatchData;
  readonly [G.MessageDelete]: GatewayMessageDeleteDispatchData;
  readonly [G.MessageDeleteBulk]: GatewayMessageDeleteBulkDispatchData;
}

const TICK_MS = 1000;
/** The lease is renewed with every so many looks at the store. */
const RENEW_EVERY = 5;
const FORGET_EVERY = 60;
const FLUSH_MS = 8000;
/** Close codes after which Discord takes no new session: token, shard, intents, version. */
const FATAL: Readonly<Record<number, string>> = {
  4004: 'Discord does not accept DISCORD_TOKEN any more: set the new one',
  4010: 'Discord refuses this shard: check how many shards are run',
  4011: 'this server needs more shards: run the bot with a sharding manager',
  4012: 'Discord does not serve this version of the gateway any more: update the program',
  4013: 'Discord refuses the intents: update the program',
  4014: "Discord refuses an intent that is not switched on: see the application's page under Bot",
};

/** Logs in, and hears from then on. Rejects where Discord does not let it in. */
export async function startBot(start: Start): Promise<Running> {
  const { client, front, self, application, reads } = start;
  const { rest } = client;
  let stopping = false;
  let end: (why: string | null) => void = () => undefined;
  const ended = new Promise<string | null>((resolve) => (end = resolve));
  const fatal = (why: string): void => void (stopping || ((stopping = true), void leave(0).then(() => end(why))));
  const dismissed = (): void => fatal(FATAL[4004] ?? '');

  const mine = (guild: string | null): boolean => {
    const shard = guild === null ? 0 : Number((BigInt(guild) >> 22n) % BigInt(start.shardCount));
    return start.shards.includes(shard);
  };
  const mineRoom = (room: string): boolean =>
    mine(room === DESK_ROOM ? front.guild : (front.rooms.get(room)?.guild ?? null));
  const delivery = new Delivery({ rest, front, self }, mineRoom, dismissed, start.patience);
  const bot: Bot = {
    front,
    rest,
    people: new People(front, rest),
    delivery,
    work: new Work(start.limits),
    taken: new Taken(front.inbox, front.now),
    self,
    application,
    reads,
  };
  const catchUp = new CatchUp(bot, mine);

  const safely = (what: string, work: Promise<unknown>): void =>
    bot.work.begin(work.catch((error: unknown) => front.log.error({ err: error }, what)));
  const hear = <E extends keyof Heard>(event: E, listener: (data: Heard[E]) => void): void =>
    void client.ws.on(event, (data: Heard[E]) => {
      try {
        listener(data);
      } catch (error) {
        front.log.error({ err: error, event }, 'an event could not be read');
      }
    });
  const afterEarlier = async (place: string, job: () => Promise<void> | void): Promise<void> => {
    await catchUp.first(place);
    await job();
  };
  /** Written or changed: persons take turns, and one who writes too much is told so. */
  const inTurn = (w: Written, job: () => Promise<void>): void => {
    if (!isForUs(bot, w)) return;
    const turn = { urgent: front.isUrgent(w.text, roleOf(front, w.roles ?? [])), place: w.channel };
    const heard = bot.work.hear(w.author.id, turn, () => afterEarlier(w.channel, job));
    safely(
      'a message was not taken',
      heard.then((went) => (went === 'full' ? tellTooFast(bot, w) : undefined)),
    );
  };
  const deleted = (place: string, ids: readonly string[]): void =>
    safely(
      'a message could not be blanked',
      bot.work.inOrder(place, () => afterEarlier(place, () => onDeleted(bot, place, ids))),
    );

  const onInteraction = (i: Interaction): void => {
    const done = i.type === InteractionType.ApplicationCommand ? onCommand(bot, i) : onTap(bot, i);
    safely(
      'a tap failed',
      done.catch(async (error: unknown) => {
        // what is cut off at the end is worked on by the next start
        if (stopping) throw error;
        await tellTrouble(bot, i);
        // who was told to try again does not want it twice
        bot.taken.done(i.id);
        throw error;
      }),
    );
  };
  hear(G.InteractionCreate, (i) => {
    if (i.type === InteractionType.Ping || i.type === InteractionType.ApplicationCommandAutocomplete) return;
    if (stopping) {
      const leaving = told(front.say('homeowner', 'discord.leaving'));
      return safely('a tap was not answered', acknowledge(rest, tappedOf(bot, i), leaving));
    }
    onInteraction(i as Interaction);
  });
  hear(G.MessageCreate, (m) => {
    const written = stopping ? null : writtenBy(m, self, m.guild_id ?? null);
    if (written) inTurn(written, () => onWritten(bot, written));
  });
  hear(G.MessageUpdate, (m) => {
    const written = stopping ? null : writtenBy(m, self, m.guild_id ?? null);
    if (written) inTurn(written, () => onEdited(bot, written));
  });
  hear(G.MessageDelete, (m) => deleted(m.channel_id, [m.id]));
  hear(G.MessageDeleteBulk, (m) => deleted(m.channel_id, m.ids));
  // ready anew, not resumed: what happened in between was never sent
  client.on(Events.ShardReady, () => safely('what was missed could not be read', catchUp.begin()));
  client.on(Events.ShardDisconnect, ({ code }) => FATAL[code] && fatal(FATAL[code]));
  client.on(Events.Error, (error) => front.log.error({ err: error }, 'the client reports an error'));
  client.on(Events.ShardError, (error) => front.log.warn({ err: error }, 'the connection is in trouble'));
  client.on(Events.Warn, (text) => front.log.warn(text));
  rest.on(RESTEvents.Response, ({ path }, { status }) => {
    // a form's or button's own token grows old; the bot's is meant everywhere else
    if (status === 401 && !/^\/(?:webhooks|interactions)\//.test(path)) dismissed();
  });

  let ticks = 0;
  let since = new Date(0).toISOString();
  let looking = false;
  const tick = async (): Promise<void> => {
    ticks += 1;
    if (ticks % RENEW_EVERY === 0) {
      const other = start.renew();
      if (other !== null) return fatal(`another process speaks for this shard now (${other}): this one ends`);
    }
    if (ticks % FORGET_EVERY === 0) bot.taken.forget();
    delivery.kick();
    catchUp.again();
    const now = new Date(front.now().getTime() - 60_000).toISOString();
    await lookForNews(bot, since, mine);
    since = now;
  };
  const timer = setInterval(() => {
    if (looking || stopping) return;
    looking = true;
    safely(
      'the store could not be looked at',
      tick().finally(() => (looking = false)),
    );
  }, start.tickMs ?? TICK_MS);

  const leave = async (flushMs: number): Promise<void> => {
    stopping = true;
    clearInterval(timer);
    bot.work.close();
    const until = Date.now() + flushMs;
    const late = new Promise((resolve) => setTimeout(resolve, flushMs).unref());
    await Promise.race([bot.work.idle(), late]);
    await delivery.flush(until);
    await client.destroy();
  };
  const stop = async (): Promise<void> => {
    if (!stopping) await leave(FLUSH_MS).then(() => end(null));
  };

  try {
    if (mine(null)) await rest.put(Routes.applicationCommands(application), { body: slashCommands(front) });
    // before anything new is heard
    for (const tap of bot.taken.undone(mine)) onInteraction(tap);
    await client.login(start.token);
  } catch (error) {
    stopping = true;
    clearInterval(timer);
    await client.destroy();
    throw error;
  }
  delivery.kick();
  return { client, bot, ended, stop };
}

/** The person reads that it failed, where Discord still takes a word for them. */
async function tellTrouble(bot: Bot, i: Interaction): Promise<void> {
  const content = bot.front.say('homeowner', 'discord.trouble');
  const tapped = tappedOf(bot, i);
  try {
    if (!(await add(bot.rest, tapped, content))) await acknowledge(bot.rest, tapped, told(content));
  } catch {
    // the trouble itself is logged
  }
}
