/** A bot that acknowledges every tap and does nothing else: what a tap costs at the least, with the same library. */
import { GatewayDispatchEvents, InteractionResponseType, Routes, type APIInteraction } from 'discord.js';
import { makeClient } from '../../src/channels/discord/client.js';

const api = process.env['DISCORD_API_BASE'] ?? null;
const client = makeClient({ api, reads: true, shards: [0], shardCount: 1 });
const body = { type: InteractionResponseType.DeferredMessageUpdate };
client.ws.on(GatewayDispatchEvents.InteractionCreate, ({ id, token }: APIInteraction) => {
  void client.rest.post(Routes.interactionCallback(id, token), { body, auth: false }).catch(() => undefined);
});
process.on('SIGTERM', () => void client.destroy());
await client.login(process.env['DISCORD_TOKEN'] ?? '');
