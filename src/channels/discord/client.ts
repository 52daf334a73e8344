/** The connection: only the events that are used, and nearly nothing kept in memory, since the store holds every case. */
import { Client, GatewayIntentBits, Options, Partials, type ClientOptions } from 'discord.js';

export interface Connection {
  /** another base for Discord's REST address, or null */
  readonly api: string | null;
  /** whether all messages may be read, or only those that speak to the bot */
  readonly reads: boolean;
  readonly shards: readonly number[];
  readonly shardCount: number;
  /** for tests and measurements */
  readonly more?: Partial<ClientOptions>;
}

const REQUEST_MS = 15_000;

export function makeClient({ api, reads, shards, shardCount, more = {} }: Connection): Client {
  const { Guilds, GuildMessages, DirectMessages, MessageContent } = GatewayIntentBits;
  return new Client({
    intents: [Guilds, GuildMessages, DirectMessages, ...(reads ? [MessageContent] : [])],
    partials: [Partials.Channel, Partials.Message],
    allowedMentions: { parse: [], repliedUser: false },
    shards: [...shards],
    shardCount,
    makeCache: Options.cacheWithLimits({
      ...Options.DefaultMakeCacheSettings,
      AutoModerationRuleManager: 0,
      BaseGuildEmojiManager: 0,
      GuildBanManager: 0,
      GuildEmojiManager: 0,
      GuildInviteManager: 0,
      GuildMemberManager: { maxSize: 0, keepOverLimit: (member) => member.id === member.client.user.id },
      GuildScheduledEventManager: 0,
      GuildStickerManager: 0,
      MessageManager: 0,
      PresenceManager: 0,
      ReactionManager: 0,
      ReactionUserManager: 0,
      StageInstanceManager: 0,
      ThreadManager: 0,
      ThreadMemberManager: 0,
      UserManager: { maxSize: 0, keepOverLimit: (user) => user.id === user.client.user.id },
      VoiceStateManager: 0,
    }),
    sweepers: { threads: { interval: 600, lifetime: 600 } },
    ...more,
    rest: {
      ...(api === null ? {} : { api: api.replace(/\/+$/, '') }),
      timeout: REQUEST_MS,
      // the outbox tries again by itself, with patience: at once, a thread could be opened twice
      retries: 0,
      ...more.rest,
    },
  });
}
