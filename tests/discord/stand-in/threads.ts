// The routes of threads: make, join, add, lock, archive, list. Documented: developers/topics/threads.mdx.

import { ChannelType, GatewayIntentBits } from 'discord.js';
import { channelFor } from './access.js';
import type { Hub, Route } from './hub.js';
import { archivedThread, missingPermissions, unknownChannel, unknownMember } from './refusals.js';
import { threadShown } from './shown.js';
import type { Channel, ThreadMember } from './world.js';

const THREADS = [GatewayIntentBits.Guilds];

/** Lets the gateway tell of a thread: THREAD_CREATE, THREAD_UPDATE, THREAD_DELETE. */
export function threadTold(t: string, thread: Channel, hub: Hub, more: object = {}): void {
  hub.gateway.happen({
    t,
    d: { ...threadShown(thread, hub), ...more },
    intents: THREADS,
    guildId: thread.guild_id,
    channel: thread,
  });
}

export interface NewThread {
  readonly name: string;
  readonly type?: ChannelType;
  readonly invitable?: boolean;
  readonly auto_archive_duration?: number;
  readonly rate_limit_per_user?: number;
}

/** Opens a thread under a channel for its owner, who is its first member. */
export function openThread(parent: Channel, wish: NewThread, ownerId: string, hub: Hub, id?: string): Channel {
  const { world, ids, clock } = hub;
  const type = wish.type ?? ChannelType.PrivateThread;
  const thread = world.keep({
    id: id ?? ids.next(),
    type,
    guild_id: parent.guild_id ?? '',
    name: wish.name,
    parent_id: parent.id,
    owner_id: ownerId,
    last_message_id: null,
    message_count: 0,
    total_message_sent: 0,
    member_count: 0,
    rate_limit_per_user: wish.rate_limit_per_user ?? 0,
    flags: 0,
    thread_metadata: {
      archived: false,
      locked: false,
      auto_archive_duration: wish.auto_archive_duration ?? 4320,
      archive_timestamp: clock.iso(),
      create_timestamp: clock.iso(),
      ...(type === ChannelType.PrivateThread ? { invitable: wish.invitable ?? true } : {}),
    },
  });
  world.threadMembers.set(thread.id, new Map());
  addMember(thread, ownerId, hub, false);
  threadTold('THREAD_CREATE', thread, hub, { newly_created: true });
  return thread;
}

/** Adds somebody; `tell`: with THREAD_MEMBERS_UPDATE. */
export function addMember(thread: Channel, userId: string, hub: Hub, tell = true): void {
  const members = hub.world.threadMembers.get(thread.id);
  if (members === undefined) throw unknownChannel();
  if (members.has(userId)) return;
  const member: ThreadMember = { id: thread.id, user_id: userId, join_timestamp: hub.clock.iso(), flags: 0 };
  members.set(userId, member);
  thread.member_count = members.size;
  if (!tell) return;
  const guildId = thread.guild_id ?? '';
  hub.gateway.happen({
    t: 'THREAD_MEMBERS_UPDATE',
    d: {
      id: thread.id,
      guild_id: guildId,
      member_count: members.size,
      added_members: [{ ...member, member: hub.world.guild(guildId).members.get(userId), presence: null }],
    },
    intents: [GatewayIntentBits.GuildMembers],
    guildId,
    channel: thread,
  });
}

/** A thread that can be changed. @throws Refusal 400/50083 when it is archived */
function openFor(hub: Hub, id: string | undefined): Channel {
  const thread = channelFor(hub, id);
  if (thread.thread_metadata === undefined) throw unknownChannel();
  if (thread.thread_metadata.archived) throw archivedThread();
  return thread;
}

const create: Route = {
  name: 'POST /channels/:channel/threads',
  schema: 'CreateTextThreadWithoutMessageRequest',
  handle({ params, body }, hub) {
    const wish = body as unknown as NewThread;
    const isPrivate = (wish.type ?? ChannelType.PrivateThread) === ChannelType.PrivateThread;
    const parent = channelFor(hub, params['channel'], isPrivate ? 'CreatePrivateThreads' : 'CreatePublicThreads');
    return { status: 201, body: threadShown(openThread(parent, wish, hub.bot.id, hub), hub) };
  },
};

const onMessage: Route = {
  name: 'POST /channels/:channel/messages/:message/threads',
  schema: 'CreateTextThreadWithMessageRequest',
  handle({ params, body }, hub) {
    const parent = channelFor(hub, params['channel'], 'CreatePublicThreads');
    const { id } = hub.messages.find(parent.id, params['message'] ?? '');
    const wish = { ...(body as unknown as NewThread), type: ChannelType.PublicThread };
    return { status: 201, body: threadShown(openThread(parent, wish, hub.bot.id, hub, id), hub) };
  },
};

const add: Route = {
  name: 'PUT /channels/:channel/thread-members/:user',
  schema: false,
  handle({ params }, hub) {
    const thread = openFor(hub, params['channel']);
    const userId = params['user'] === '@me' ? hub.bot.id : (params['user'] ?? '');
    if (hub.world.guild(thread.guild_id ?? '').members.get(userId) === undefined) throw unknownMember();
    addMember(thread, userId, hub);
    return { status: 204 };
  },
};

const take: Route = {
  name: 'DELETE /channels/:channel/thread-members/:user',
  schema: false,
  handle({ params }, hub) {
    const thread = openFor(hub, params['channel']);
    const userId = params['user'] === '@me' ? hub.bot.id : (params['user'] ?? '');
    if (userId !== hub.bot.id && thread.owner_id !== hub.bot.id) channelFor(hub, thread.id, 'ManageThreads');
    const members = hub.world.threadMembers.get(thread.id);
    members?.delete(userId);
    thread.member_count = members?.size ?? 0;
    return { status: 204 };
  },
};

const members: Route = {
  name: 'GET /channels/:channel/thread-members',
  schema: false,
  handle({ params }, hub) {
    const thread = channelFor(hub, params['channel']);
    return { status: 200, body: [...(hub.world.threadMembers.get(thread.id)?.values() ?? [])] };
  },
};

const change: Route = {
  name: 'PATCH /channels/:channel',
  schema: 'UpdateThreadRequestPartial',
  handle({ params, body }, hub) {
    const thread = channelFor(hub, params['channel']);
    const state = thread.thread_metadata;
    if (state === undefined) throw missingPermissions();
    const wish = body as { archived?: boolean; locked?: boolean; name?: string; auto_archive_duration?: number };
    const manages = hub.world.may(hub.bot.id, thread, 'ManageThreads');
    // Its owner may archive and rename; locking, and opening a locked one, takes the permission.
    if (!manages && (wish.locked !== undefined || state.locked || thread.owner_id !== hub.bot.id)) {
      throw missingPermissions();
    }
    if (state.archived && wish.archived !== false) throw archivedThread();
    state.archived = wish.archived ?? state.archived;
    state.locked = wish.locked ?? state.locked;
    state.auto_archive_duration = wish.auto_archive_duration ?? state.auto_archive_duration;
    if (wish.archived !== undefined) state.archive_timestamp = hub.clock.iso();
    if (wish.name !== undefined) thread.name = wish.name;
    threadTold('THREAD_UPDATE', thread, hub);
    return { status: 200, body: threadShown(thread, hub) };
  },
};

const active: Route = {
  name: 'GET /guilds/:guild/threads/active',
  schema: false,
  handle({ params }, hub) {
    const { world, bot } = hub;
    const open = world
      .threads(world.guild(params['guild'] ?? ''))
      .filter((t) => t.thread_metadata?.archived === false && world.sees(bot.id, t))
      .toReversed();
    const mine = open.flatMap((t) => world.threadMembers.get(t.id)?.get(bot.id) ?? []);
    return { status: 200, body: { threads: open.map((t) => threadShown(t, hub)), members: mine } };
  },
};

export const threads: readonly Route[] = [create, onMessage, add, take, members, change, active];
