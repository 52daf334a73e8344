/**
 * A stand-in of Discord on 127.0.0.1: its REST interface and its gateway, for tests of our bot with the real library.
 * It keeps Discord's documented limits and error codes, makes trouble on demand, and records all that arrives. It never
 * answers a request that it does not know, and decides nothing for the bot.
 *
 *   const discord = await startStandIn();              // a guild, the channel 'help', the bot as a member
 *   const ana = discord.addUser('Ana', { roles: [discord.addRole('seniors')] });
 *
 *   // in the same process:  new Client({ intents, ...discord.clientOptions() }), then client.login(discord.token)
 *   // in another process:   spawn(..., { env: { ...process.env, ...discord.env() } })
 *   //                       that is DISCORD_API_BASE=http://127.0.0.1:PORT/api and DISCORD_TOKEN
 *
 *   await discord.until(() => discord.commands().length > 0);                    // the bot has registered
 *   const asked = discord.people.slash(ana, 'case open', { text: 'frost' });     // sub-commands after a space
 *   await discord.until(() => asked.original);                                   // its answer, a Said
 *   discord.people.press(ana, asked.original, asked.original.buttons[0].custom_id);
 *   discord.people.select(ana, message, 'id', ['value']);
 *   const form = discord.people.press(...); await discord.until(() => form.modal);
 *   discord.people.submit(ana, form, { field: 'words' });
 *   discord.people.say(ana, channel, 'words', { attachments, mentionsBot, replyTo });   // also edit, remove, dm, thread
 *
 *   discord.messages(channel)            // Said[]: content, words, parts, buttons, embeds, files, nonce, onlyFor, versions
 *   discord.threads()                    // threads of the guild
 *   discord.interactions                 // Given[]: answer.type, answer.afterMs, original, modal, followUps, refused
 *   discord.kept.requests, .to(route)    // every request with its body, uploads, time, status, code
 *   discord.kept.failures                // bodies that broke Discord's description or a documented rule, unknown routes:
 *                                        // expect it to be empty at the end of each test
 *   discord.clock.advance(3001)          // past the acknowledgement; 15 * 60_000 past the webhook's token
 *                                        // startStandIn({ stillClock: true }): time passes only so
 *   discord.faults.fail('POST /channels/:channel/messages', { status: 500, times: 2 })   // also limit, hold, drop, revoke
 *   discord.gateway.drop(), .close(4000), .reconnect(), .invalidate(false), .lose(), .deliverTwice(), .swallow()
 *   await discord.refuse(); await discord.accept();   // the whole of Discord unreachable, and back
 *   discord.permit(channel, 'SendMessages', 'deny'), discord.closeDms(ana)
 *
 *   await discord.stop();                // throws where the stand-in itself has failed
 *
 * Several guilds: `addGuild`. Names of routes are those of the table in the files beside this one (routes.ts).
 */

import {
  GatewayIntentBits,
  type APIApplicationCommand,
  type APIRole,
  type APIUser,
  type ClientOptions,
} from 'discord.js';
import { Clock, Ids } from './clock.js';
import { prepare } from './described.js';
import { Faults } from './faults.js';
import { Gateway } from './gateway.js';
import type { Hub } from './hub.js';
import { Interactions, type Given } from './interactions.js';
import { Messages } from './messages.js';
import { People } from './people.js';
import { Kept } from './record.js';
import type { Said } from './said.js';
import { RestServer } from './server.js';
import { guildCreated } from './shown.js';
import { World, type Channel, type Guild, type Permission } from './world.js';

export interface StandInSettings {
  readonly token?: string;
  /** Privileged intents switched on for the application; all by default. Others are closed with 4014. */
  readonly privileged?: readonly GatewayIntentBits[];
  /** Milliseconds between heartbeats. */
  readonly heartbeatEvery?: number;
  /** Time passes only by `clock.advance`: a slow machine makes no answer late. */
  readonly stillClock?: boolean;
  /** Permissions of the bot's role beside those of everyone. */
  readonly botPermissions?: readonly Permission[];
}

export class StandIn {
  readonly token: string;
  readonly clock: Clock;
  readonly faults = new Faults();
  readonly kept = new Kept();
  readonly gateway: Gateway;
  readonly people: People;
  readonly bot: APIUser;
  /** The first guild, and its first channel, 'help'. */
  readonly guild: Guild;
  readonly channel: Channel;
  readonly #world: World;
  readonly #rest: RestServer;
  readonly #hub: Hub;
  readonly #botPermissions: readonly Permission[];

  constructor(settings: StandInSettings) {
    this.clock = new Clock(settings.stillClock ?? false);
    const ids = new Ids(this.clock);
    this.#world = new World(this.clock, ids);
    this.token = settings.token ?? 'stand-in.token.for-tests';
    this.#botPermissions = settings.botPermissions ?? [];
    const { MessageContent, GuildMembers, GuildPresences } = GatewayIntentBits;
    const privileged = (settings.privileged ?? [MessageContent, GuildMembers, GuildPresences]).reduce(
      (sum, intent) => sum | intent,
      0,
    );
    const hub = (): Hub => this.#hub;
    this.gateway = new Gateway(hub, {
      token: this.token,
      privileged,
      heartbeatEvery: settings.heartbeatEvery ?? 41_250,
      revoked: () => this.faults.revoked,
    });
    this.people = new People(hub);
    this.#rest = new RestServer(hub, this.faults, this.token);
    this.gateway.attach(this.#rest.server);
    this.bot = this.#world.addUser('thawline', { bot: true });
    this.#hub = {
      clock: this.clock,
      ids,
      world: this.#world,
      kept: this.kept,
      gateway: this.gateway,
      messages: new Messages(hub),
      interactions: new Interactions(hub),
      bot: this.bot,
      applicationId: this.bot.id,
      commands: new Map(),
      contentAllowed: (privileged & MessageContent) !== 0,
      origin: () => this.origin,
    };
    this.guild = this.addGuild('Cold rooms');
    this.channel = this.addChannel('help');
  }

  /** 'http://127.0.0.1:PORT' */
  get origin(): string {
    return `http://127.0.0.1:${this.#rest.port}`;
  }

  /** For the setting `rest.api` of the library. */
  get apiBase(): string {
    return `${this.origin}/api`;
  }

  get applicationId(): string {
    return this.#hub.applicationId;
  }

  get interactions(): readonly Given[] {
    return this.#hub.interactions.all;
  }

  /** Environment of a bot in another process. */
  env(): { DISCORD_API_BASE: string; DISCORD_TOKEN: string } {
    return { DISCORD_API_BASE: this.apiBase, DISCORD_TOKEN: this.token };
  }

  /** Options of a client in this process: leads it here, and leaves out the waits that only real Discord needs. */
  clientOptions(): Pick<ClientOptions, 'rest' | 'ws'> {
    return {
      rest: { api: this.apiBase, offset: 0, globalRequestsPerSecond: 100_000 },
      ws: { buildIdentifyThrottler: async () => ({ waitForIdentify: async () => undefined }) },
    };
  }

  addGuild(name: string): Guild {
    const guild = this.#world.addGuild(name, this.#world.addUser(`owner of ${name}`));
    const role = this.#world.addRole(guild, 'thawline', this.#botPermissions);
    this.#world.join(guild, this.bot, [role]);
    const d = guildCreated(guild, this.#hub);
    this.gateway.happen({ t: 'GUILD_CREATE', d, intents: [GatewayIntentBits.Guilds], guildId: guild.id });
    return guild;
  }

  addRole(name: string, permissions: readonly Permission[] = [], guild = this.guild): APIRole {
    const role = this.#world.addRole(guild, name, permissions);
    const d = { guild_id: guild.id, role };
    this.gateway.happen({ t: 'GUILD_ROLE_CREATE', d, intents: [GatewayIntentBits.Guilds], guildId: guild.id });
    return role;
  }

  /** A person; a member of the first guild unless told `guild: null`. */
  addUser(name: string, { roles = [], guild = this.guild }: { roles?: APIRole[]; guild?: Guild | null } = {}): APIUser {
    const user = this.#world.addUser(name);
    if (guild !== null) {
      const d = { ...this.#world.join(guild, user, roles), guild_id: guild.id };
      this.gateway.happen({ t: 'GUILD_MEMBER_ADD', d, intents: [GatewayIntentBits.GuildMembers], guildId: guild.id });
    }
    return user;
  }

  addChannel(name: string, guild = this.guild): Channel {
    const channel = this.#world.addChannel(guild, name);
    this.gateway.happen({
      t: 'CHANNEL_CREATE',
      d: channel,
      intents: [GatewayIntentBits.Guilds],
      guildId: guild.id,
      channel,
    });
    return channel;
  }

  /** Gives the bot, or `user`, a permission in one channel, or takes it; threads follow their channel. */
  permit(channel: Channel, permission: Permission, to: 'allow' | 'deny', user = this.bot): void {
    this.#world.overwrite(channel, user.id, permission, to);
    this.gateway.happen({
      t: 'CHANNEL_UPDATE',
      d: channel,
      intents: [GatewayIntentBits.Guilds],
      guildId: channel.guild_id,
    });
  }

  /** The person takes no direct messages from the bot any more: 403/50007. */
  closeDms(user: APIUser): void {
    this.#world.closedToDms.add(user.id);
  }

  /** All messages of a channel, oldest first, also those for one person alone; without those that were removed. */
  messages(channel: Channel): Said[] {
    return (this.#world.messages.get(channel.id) ?? []).filter((m) => !m.removed);
  }

  /** Messages that the bot made in a channel. */
  botMessages(channel: Channel): Said[] {
    return this.messages(channel).filter((m) => m.authorId === this.bot.id);
  }

  /** Every message anywhere, for one that must not be anywhere. */
  everything(): Said[] {
    return [...this.#world.messages.values()].flat();
  }

  threads(guild = this.guild): Channel[] {
    return this.#world.threads(guild);
  }

  /** User ids of a thread's members. */
  membersOf(thread: Channel): string[] {
    return [...(this.#world.threadMembers.get(thread.id)?.keys() ?? [])];
  }

  /** Commands registered for the first guild, or for all. */
  commands(scope: Guild | 'global' = 'global'): APIApplicationCommand[] {
    return this.#hub.commands.get(scope === 'global' ? scope : scope.id) ?? [];
  }

  /** Waits for a condition; looked at with every request, event and answer. */
  until<T>(condition: () => T, within?: number): Promise<NonNullable<Exclude<T, false>>> {
    return this.kept.until(condition, within);
  }

  /** Nothing can be reached: REST and gateway refuse connections, live ones are cut. */
  async refuse(): Promise<void> {
    this.gateway.drop();
    await this.#rest.refuse();
  }

  /** Reachable again, on the same port. */
  async accept(): Promise<void> {
    await this.#rest.listen();
  }

  async stop(): Promise<void> {
    this.gateway.stop();
    if (this.#rest.server.listening) await this.#rest.refuse();
    if (this.#rest.bugs.length > 0) throw new AggregateError(this.#rest.bugs, 'The stand-in of Discord has failed.');
  }

  /** For `startStandIn`. */
  listen(): Promise<void> {
    return this.#rest.listen();
  }
}

/** A stand-in that listens on a free port. */
export async function startStandIn(settings: StandInSettings = {}): Promise<StandIn> {
  // Compiled first, so that it does not come out of the 3 s of an answer.
  for (const schema of ['InteractionCallback', 'CommandsPut', 'MessageCreateRequest']) prepare(schema);
  const made = new StandIn(settings);
  await made.listen();
  return made;
}
