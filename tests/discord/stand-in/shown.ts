// Things of the world in the shape in which Discord shows them. It reads and never changes.

import type { Hub } from './hub.js';
import type { Channel, Guild } from './world.js';

/** A guild over REST. */
export function guildShown(guild: Guild): Record<string, unknown> {
  return {
    id: guild.id,
    name: guild.name,
    icon: null,
    splash: null,
    discovery_splash: null,
    banner: null,
    description: null,
    owner_id: guild.ownerId,
    region: 'local',
    afk_channel_id: null,
    afk_timeout: 300,
    widget_enabled: false,
    verification_level: 0,
    default_message_notifications: 0,
    explicit_content_filter: 0,
    mfa_level: 0,
    application_id: null,
    system_channel_id: null,
    system_channel_flags: 0,
    rules_channel_id: null,
    public_updates_channel_id: null,
    safety_alerts_channel_id: null,
    vanity_url_code: null,
    max_members: 500_000,
    premium_tier: 0,
    premium_subscription_count: 0,
    premium_progress_bar_enabled: false,
    preferred_locale: 'en-US',
    nsfw_level: 0,
    features: [],
    emojis: [],
    stickers: [],
    roles: [...guild.roles.values()],
  };
}

/** A guild as GUILD_CREATE brings it: with what the bot may see in it. */
export function guildCreated(guild: Guild, hub: Hub): Record<string, unknown> {
  const { world, bot, clock } = hub;
  const seen = [...world.channels.values()].filter((c) => c.guild_id === guild.id && world.sees(bot.id, c));
  return {
    ...guildShown(guild),
    joined_at: clock.iso(),
    large: false,
    unavailable: false,
    member_count: guild.members.size,
    members: [...guild.members.values()].filter((m) => m.user.id === bot.id),
    channels: seen.filter((c) => c.thread_metadata === undefined),
    threads: seen.filter((c) => c.thread_metadata?.archived === false).map((c) => threadShown(c, hub)),
    presences: [],
    voice_states: [],
    stage_instances: [],
    guild_scheduled_events: [],
    soundboard_sounds: [],
  };
}

/** A thread, with the bot's membership where it is a member. */
export function threadShown(thread: Channel, { world, bot }: Hub): Record<string, unknown> {
  const member = world.threadMembers.get(thread.id)?.get(bot.id);
  return { ...thread, ...(member === undefined ? {} : { member }) };
}
