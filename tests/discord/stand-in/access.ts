// Whether the bot may touch a channel at all, and with which permissions.

import type { Hub } from './hub.js';
import { missingAccess, missingPermissions } from './refusals.js';
import type { Channel, Permission } from './world.js';

/** @throws Refusal 404/10003, 403/50001 where the bot does not see the channel, 403/50013 without a permission */
export function channelFor(hub: Hub, id: string | undefined, ...needs: Permission[]): Channel {
  const channel = hub.world.channel(id ?? '');
  if (!hub.world.sees(hub.bot.id, channel)) throw missingAccess();
  if (needs.some((permission) => !hub.world.may(hub.bot.id, channel, permission))) throw missingPermissions();
  return channel;
}
