// The routes that look something up: the gateway's address, the bot, its application, guilds, roles, members, channels.

import { ApplicationFlags } from 'discord.js';
import { channelFor } from './access.js';
import type { Hub, Route } from './hub.js';
import { unknownMember } from './refusals.js';
import { guildShown, threadShown } from './shown.js';
import type { Guild } from './world.js';

const guildOf = (params: Readonly<Record<string, string>>, hub: Hub): Guild => hub.world.guild(params['guild'] ?? '');
const get = (path: string, find: (params: Readonly<Record<string, string>>, hub: Hub) => unknown): Route => ({
  name: `GET ${path}`,
  schema: false,
  handle: ({ params }, hub) => ({ status: 200, body: find(params, hub) }),
});

const dm: Route = {
  name: 'POST /users/@me/channels',
  schema: 'CreatePrivateChannelRequest',
  handle({ body }, { world }) {
    const user = world.user(String((body as { recipient_id?: string }).recipient_id));
    return { status: 200, body: world.dm(user) };
  },
};

export const looking: readonly Route[] = [
  get('/gateway', (_, { origin }) => ({ url: origin().replace('http', 'ws') })),
  get('/gateway/bot', (_, { origin }) => ({
    url: origin().replace('http', 'ws'),
    shards: 1,
    session_start_limit: { total: 1000, remaining: 1000, reset_after: 0, max_concurrency: 1 },
  })),
  get('/users/@me', (_, { bot }) => bot),
  get('/users/:user', ({ user }, { world }) => world.user(user ?? '')),
  get('/applications/@me', (_, { applicationId, bot, contentAllowed }) => ({
    id: applicationId,
    name: bot.username,
    icon: null,
    description: '',
    bot,
    bot_public: false,
    bot_require_code_grant: false,
    verify_key: '',
    flags: contentAllowed ? ApplicationFlags.GatewayMessageContentLimited : 0,
    integration_types_config: { 0: {} },
  })),
  get('/guilds/:guild', (params, hub) => guildShown(guildOf(params, hub))),
  get('/guilds/:guild/roles', (params, hub) => [...guildOf(params, hub).roles.values()]),
  get('/guilds/:guild/channels', (params, { world }) =>
    [...world.channels.values()].filter((c) => c.guild_id === params['guild'] && c.thread_metadata === undefined),
  ),
  get('/guilds/:guild/members/:user', (params, hub) => {
    const member = guildOf(params, hub).members.get(params['user'] ?? '');
    if (member === undefined) throw unknownMember();
    return member;
  }),
  get('/channels/:channel', ({ channel }, hub) => threadShown(channelFor(hub, channel), hub)),
  dm,
];
