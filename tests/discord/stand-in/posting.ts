// The routes of messages: make, list, read, change, remove, typing; with what the bot may do where.

import { ChannelType } from 'discord.js';
import { channelFor } from './access.js';
import { withoutContent } from './gateway.js';
import { messageFaults } from './hand-rules.js';
import type { Hub, Route } from './hub.js';
import type { MessageBody } from './messages.js';
import { archivedThread, badForm, cannotDm, missingPermissions, notTheAuthor } from './refusals.js';
import type { Said } from './said.js';
import { threadTold } from './threads.js';
import type { Channel } from './world.js';

/** Documented as "the past few minutes" (resources/message.mdx). */
const NONCE_LIVES = 5 * 60_000;

/** A message over REST: without content where the application may not read it. */
function shown(said: Said, hub: Hub): unknown {
  if (hub.contentAllowed) return said.api;
  const { guild_id } = hub.world.channel(said.api.channel_id);
  const { guild_id: _, ...message } = { ...withoutContent({ ...said.api, guild_id }, hub.bot.id) };
  return message;
}

const create: Route = {
  name: 'POST /channels/:channel/messages',
  schema: 'MessageCreateRequest',
  rules: messageFaults,
  handle({ params, body, uploads }, hub) {
    const at = hub.world.channel(params['channel'] ?? '');
    const inThread = at.thread_metadata !== undefined;
    const channel = channelFor(hub, at.id, inThread ? 'SendMessagesInThreads' : 'SendMessages');
    if (uploads.length > 0) channelFor(hub, at.id, 'AttachFiles');
    if (channel.recipients?.some((r) => hub.world.closedToDms.has(r.id))) throw cannotDm();
    const message = body as MessageBody;
    if (message.enforce_nonce === true && message.nonce !== undefined && message.nonce !== null) {
      const earlier = hub.messages
        .visible(channel.id)
        .find(
          (m) =>
            m.nonce === String(message.nonce) &&
            m.authorId === hub.bot.id &&
            hub.clock.now() - Date.parse(m.api.timestamp) < NONCE_LIVES,
        );
      if (earlier !== undefined) return { status: 200, body: earlier.api };
    }
    wake(channel, hub);
    return { status: 200, body: hub.messages.post({ channel, author: hub.bot, body: message, uploads }).api };
  },
};

/** Writing opens an archived thread again; a locked one only for those who manage threads. */
function wake(channel: Channel, hub: Hub): void {
  const state = channel.thread_metadata;
  if (state === undefined) return;
  if (state.locked && !hub.world.may(hub.bot.id, channel, 'ManageThreads')) throw archivedThread();
  if (!state.archived) return;
  state.archived = false;
  threadTold('THREAD_UPDATE', channel, hub);
}

const list: Route = {
  name: 'GET /channels/:channel/messages',
  schema: false,
  handle({ params, query }, hub) {
    const channel = channelFor(hub, params['channel']);
    if (!hub.world.may(hub.bot.id, channel, 'ReadMessageHistory')) return { status: 200, body: [] };
    const limit = Number(query.get('limit') ?? 50);
    if (!Number.isInteger(limit) || limit < 1 || limit > 100) {
      throw badForm([{ path: ['limit'], code: 'NUMBER_TYPE_MAX', message: 'int value should be from 1 to 100.' }]);
    }
    const all = hub.messages.visible(channel.id);
    const [after, before, around] = ['after', 'before', 'around'].map((key) => query.get(key));
    let some = all.slice(-limit);
    if (after) some = all.filter((m) => BigInt(m.id) > BigInt(after)).slice(0, limit);
    else if (before) some = all.filter((m) => BigInt(m.id) < BigInt(before)).slice(-limit);
    else if (around) {
      const middle = all.findIndex((m) => BigInt(m.id) >= BigInt(around));
      const from = Math.max(0, (middle < 0 ? all.length : middle) - Math.floor(limit / 2));
      some = all.slice(from, from + limit);
    }
    // Newest first, whichever was asked for.
    return { status: 200, body: some.toReversed().map((m) => shown(m, hub)) };
  },
};

const read: Route = {
  name: 'GET /channels/:channel/messages/:message',
  schema: false,
  handle({ params }, hub) {
    const channel = channelFor(hub, params['channel'], 'ReadMessageHistory');
    return { status: 200, body: shown(hub.messages.find(channel.id, params['message'] ?? ''), hub) };
  },
};

const change: Route = {
  name: 'PATCH /channels/:channel/messages/:message',
  schema: 'MessageEditRequestPartial',
  rules: messageFaults,
  handle({ params, body, uploads }, hub) {
    const channel = channelFor(hub, params['channel']);
    const said = hub.messages.find(channel.id, params['message'] ?? '');
    if (said.authorId !== hub.bot.id) throw notTheAuthor();
    if (channel.thread_metadata?.archived === true) throw archivedThread();
    return { status: 200, body: hub.messages.edit(said, body, uploads).api };
  },
};

const remove: Route = {
  name: 'DELETE /channels/:channel/messages/:message',
  schema: false,
  handle({ params }, hub) {
    const channel = channelFor(hub, params['channel']);
    const said = hub.messages.find(channel.id, params['message'] ?? '');
    if (said.authorId !== hub.bot.id) {
      if (channel.type === ChannelType.DM) throw missingPermissions();
      channelFor(hub, channel.id, 'ManageMessages');
    }
    hub.messages.remove(said);
    return { status: 204 };
  },
};

const typing: Route = {
  name: 'POST /channels/:channel/typing',
  schema: false,
  handle({ params }, hub) {
    channelFor(hub, params['channel'], 'SendMessages');
    return { status: 204 };
  },
};

export const posting: readonly Route[] = [create, list, read, change, remove, typing];
