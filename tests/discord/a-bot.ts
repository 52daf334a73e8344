/** The bot in this process on a stand-in of Discord, with a store of its own; and people to talk to it. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { GatewayDispatchEvents, type APIRole, type APIUser } from 'discord.js';
import { expect } from 'vitest';
import { startBot, type Running } from '../../src/channels/discord/bot.js';
import { checkServer } from '../../src/channels/discord/check.js';
import { makeClient } from '../../src/channels/discord/client.js';
import type { Limits } from '../../src/channels/fair-queue.js';
import { makeLog } from '../../src/channels/discord/log.js';
import { wireDiscord } from '../../src/commands/discord-front.js';
import type { Parts } from '../../src/commands/parts.js';
import type { Settings } from '../../src/commands/settings.js';
import type { Given } from './stand-in/interactions.js';
import type { Said } from './stand-in/said.js';
import { BOT_PERMISSIONS } from './bot-permissions.js';
import { startStandIn, type StandIn, type StandInSettings } from './stand-in/stand-in.js';
import type { Channel } from './stand-in/world.js';

export interface Scene {
  readonly discord: StandIn;
  readonly desk: Channel;
  readonly technicians: APIRole;
  readonly seniors: APIRole;
  readonly settings: Settings;
  /** a caller, a technician and a senior of the server */
  readonly ana: APIUser;
  readonly bo: APIUser;
  readonly cleo: APIUser;
  readonly running: () => Running;
  readonly parts: () => Parts;
  readonly start: () => Promise<void>;
  /** what `thawline serve` would say at its start */
  readonly notes: () => readonly string[];
  readonly stop: () => Promise<void>;
  /** the bot is gone at once, with all that it had not written down */
  readonly crash: () => Promise<void>;
  /** lines of the log, parsed */
  readonly log: { readonly level: string; readonly msg: string; readonly err?: { message: string } }[];
  readonly end: () => Promise<void>;
}

export interface SceneSettings extends StandInSettings {
  readonly hasDesk?: boolean;
  readonly started?: boolean;
  readonly timeoutMs?: number;
  readonly limits?: Limits;
}

export async function aScene({
  hasDesk = true,
  started = true,
  timeoutMs = 5000,
  limits = { waiting: 1000, perMinute: 1000 },
  ...more
}: SceneSettings = {}): Promise<Scene> {
  const folder = mkdtempSync(join(tmpdir(), 'thawline-discord-'));
  const discord = await startStandIn({ botPermissions: BOT_PERMISSIONS, ...more });
  const technicians = discord.addRole('technicians');
  const seniors = discord.addRole('seniors');
  const desk = discord.addChannel('desk');
  const settings: Settings = {
    db: join(folder, 'cases.db'),
    overlay: null,
    contact: null,
    units: null,
    keepDays: 365,
    discord: {
      token: discord.token,
      api: discord.apiBase,
      guild: discord.guild.id,
      deskChannel: hasDesk ? desk.id : null,
      technicianRole: technicians.id,
      seniorRole: seniors.id,
    },
  };
  const log: Scene['log'] = [];
  let now: { running: Running; parts: Parts; notes: readonly string[] } | null = null;
  const start = async (): Promise<void> => {
    const write = (line: string): void => void log.push(JSON.parse(line) as (typeof log)[number]);
    const { parts, front } = wireDiscord(settings, makeLog(discord.token, { write }));
    const options = discord.clientOptions();
    const asking = makeClient({ api: discord.apiBase, reads: false, shards: [0], shardCount: 1, more: options });
    asking.rest.setToken(discord.token);
    const checked = await checkServer(asking.rest, { ...settings.discord, guild: discord.guild.id });
    expect(checked.missing).toEqual([]);
    const client = makeClient({
      api: discord.apiBase,
      reads: checked.reads,
      shards: [0],
      shardCount: 1,
      more: { ...options, rest: { ...options.rest, timeout: timeoutMs } },
    });
    client.rest.setToken(discord.token);
    const running = await startBot({
      client,
      front,
      token: discord.token,
      self: checked.self?.id ?? '',
      application: checked.application,
      reads: checked.reads,
      shards: [0],
      shardCount: 1,
      renew: () => null,
      tickMs: 10,
      patience: { first: 10, longest: 1000, refused: 50 },
      limits,
    });
    now = { running, parts, notes: checked.notes };
  };
  const stop = async (): Promise<void> => {
    await now?.running.stop();
    now?.parts.store.close();
    now = null;
  };
  const crash = async (): Promise<void> => {
    now?.parts.store.close();
    // without its store it can only leave
    await now?.running.stop().catch(() => undefined);
    await now?.running.client.destroy();
    now = null;
  };
  const current = (): NonNullable<typeof now> => {
    if (!now) throw new Error('the bot is not running');
    return now;
  };
  if (started) await start();
  return {
    discord,
    desk,
    technicians,
    seniors,
    settings,
    ana: discord.addUser('Ana'),
    bo: discord.addUser('Bo', { roles: [technicians] }),
    cleo: discord.addUser('Cleo', { roles: [seniors] }),
    running: () => current().running,
    parts: () => current().parts,
    notes: () => current().notes,
    start,
    stop,
    crash,
    log,
    end: async () => {
      await stop();
      await discord.stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Opens a case with the command, and gives its thread with the first question in it. */
export async function openCase(scene: Scene, user: APIUser, problem: string): Promise<Channel> {
  const { discord } = scene;
  const before = discord.threads().length;
  const asked = discord.people.slash(user, 'case', { problem }, discord.channel);
  await discord.until(() => asked.original?.content.includes('<#') && discord.threads().length > before);
  const thread = discord.threads().at(-1);
  if (!thread) throw new Error('no thread was opened');
  await lastQuestion(scene, thread);
  return thread;
}

/** The newest message of the bot with controls, once everything that waits is posted. */
export async function lastQuestion(scene: Scene, channel: Channel): Promise<Said> {
  await posted(scene);
  const last = shownTo(scene, channel).findLast((m) => m.parts.some((p) => p.custom_id !== undefined));
  if (!last) throw new Error('nothing is asked there');
  return last;
}

/** Until the bot has heard all that happened so far, and has nothing more to do or to post. */
export async function posted(scene: Scene): Promise<void> {
  const { client, bot } = scene.running();
  const mark = new Promise<void>((resolve) => client.ws.once(GatewayDispatchEvents.GuildRoleCreate, () => resolve()));
  scene.discord.addRole('mark');
  await mark;
  const { posts } = scene.parts().store;
  do {
    await new Promise((resolve) => setTimeout(resolve, 5));
    await bot.work.idle();
  } while (posts.ready(new Date().toISOString()).length > 0);
}

/** A control of a message by what it does: its letter, and for a choice the words on it. */
export function control(message: Said, letter: string, label?: RegExp): string {
  const found = message.parts.find(
    (p) => p.custom_id?.startsWith(`1.${letter}.`) && (label === undefined || label.test(p.label ?? '')),
  );
  if (!found?.custom_id) throw new Error(`no control "${letter}" ${String(label)} in: ${message.content}`);
  return found.custom_id;
}

/** The control of a question for who cannot tell. */
export function notSure(message: Said): string {
  const found = message.parts.find((p) => p.custom_id?.startsWith('1.n.') || /^not sure/i.test(p.label ?? ''));
  if (!found?.custom_id) throw new Error(`nothing to be not sure with in: ${message.content}`);
  return found.custom_id;
}

/** Every request was one that Discord takes, and every tap was acknowledged in time. */
export function expectSound({ discord }: Scene): void {
  expect(discord.kept.failures).toEqual([]);
  for (const given of discord.interactions) {
    expect(given.answer, `${given.name} was never acknowledged`).toBeDefined();
    expect(given.answer?.afterMs).toBeLessThan(3000);
  }
}

export const content = (given: Given): string => given.original?.content ?? '';

/** What the bot wrote for everybody in a channel, not for one person alone. */
export const shownTo = ({ discord }: Scene, channel: Channel): Said[] =>
  discord.botMessages(channel).filter((m) => m.onlyFor === undefined);

/** Alternative texts of a message's files, as they were sent. */
export function altsOf({ discord }: Scene, message: Said): string[] {
  const sent = discord.kept.requests.find((r) => (r.body as { nonce?: string } | undefined)?.nonce === message.nonce);
  const { attachments = [] } = (sent?.body ?? {}) as { attachments?: { description?: string }[] };
  return attachments.map((a) => a.description ?? '');
}

/** The case that is talked in there, as it is stored. */
export function caseIn(scene: Scene, channel: Channel): string {
  const { store } = scene.parts();
  return store.caseOf('discord', store.rooms.at(channel.id)?.conversation ?? '') ?? '';
}
