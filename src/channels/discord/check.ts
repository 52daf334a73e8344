/** Whether the bot can do its work on the server: token, server, roles, the technicians' channel, permissions. */
import {
  ApplicationFlags,
  ChannelType,
  DiscordAPIError,
  OverwriteType,
  PermissionFlagsBits as P,
  Routes,
  type APIApplication,
  type APIGuild,
  type APIGuildMember,
  type APITextChannel,
  type APIUser,
  type REST,
} from 'discord.js';

export interface Wanted {
  readonly guild: string;
  readonly deskChannel: string | null;
  readonly technicianRole: string | null;
  readonly seniorRole: string | null;
}

export interface Checked {
  readonly self: APIUser | null;
  readonly application: string;
  readonly reads: boolean;
  /** what has to be mended before anything works, one line each */
  readonly missing: readonly string[];
  /** what works less than it could, one line each */
  readonly notes: readonly string[];
}

const NEEDED = {
  'View Channels': P.ViewChannel,
  'Send Messages': P.SendMessages,
  'Attach Files': P.AttachFiles,
  'Read Message History': P.ReadMessageHistory,
  'Create Private Threads': P.CreatePrivateThreads,
  'Send Messages in Threads': P.SendMessagesInThreads,
} as const;
const NEEDED_AT_DESK = ['View Channels', 'Send Messages', 'Attach Files', 'Read Message History'] as const;

/** The bits of an invite link. */
export const INVITE_BITS = Object.values(NEEDED).reduce((all, bit) => all | bit, 0n);

/** @throws what the network throws; everything that Discord refuses becomes a line */
export async function checkServer(rest: REST, wanted: Wanted): Promise<Checked> {
  const missing: string[] = [];
  const notes: string[] = [];
  const none = { self: null, application: '', reads: false, missing, notes };
  const self = await asked<APIUser>(rest, Routes.user());
  if (!self.ok) {
    missing.push(`DISCORD_TOKEN is not accepted by Discord (${self.why}): copy it anew from the application's page.`);
    return none;
  }
  const application = await asked<APIApplication>(rest, Routes.currentApplication());
  const flags = application.ok ? (application.value.flags ?? 0) : 0;
  const reads =
    (flags & (ApplicationFlags.GatewayMessageContent | ApplicationFlags.GatewayMessageContentLimited)) !== 0;
  if (!reads)
    notes.push(
      "The Message Content intent is off: in threads people answer by buttons, forms and mentions. To let them simply write, switch it on at the application's page under Bot.",
    );
  const result = {
    ...none,
    self: self.value,
    application: application.ok ? application.value.id : self.value.id,
    reads,
  };
  const guild = await asked<APIGuild>(rest, Routes.guild(wanted.guild));
  if (!guild.ok) {
    missing.push(
      `DISCORD_GUILD_ID: the bot is not on the server ${wanted.guild} (${guild.why}): invite it, or set another id.`,
    );
    return result;
  }
  const { roles } = guild.value;
  for (const [name, id, what] of [
    ['THAWLINE_TECHNICIAN_ROLE_ID', wanted.technicianRole, 'technicians'],
    ['THAWLINE_SENIOR_ROLE_ID', wanted.seniorRole, 'seniors'],
  ] as const)
    if (id === null) notes.push(`${name} is not set: nobody counts among the ${what}.`);
    else if (!roles.some((r) => r.id === id))
      missing.push(`${name}: the server has no role ${id}: copy the id of the role of the ${what}.`);
  const member = await asked<APIGuildMember>(rest, Routes.guildMember(wanted.guild, self.value.id));
  const own = member.ok ? member.value.roles : [];
  const base = permissionsOf(guild.value, own);
  for (const [name, bit] of Object.entries(NEEDED))
    if (!has(base, bit))
      missing.push(`The bot lacks the permission "${name}" on the server: give it to the bot's role.`);
  if (wanted.deskChannel === null)
    notes.push(
      'THAWLINE_DESK_CHANNEL_ID is not set: hand-overs are given to the caller as a page, and nobody is notified.',
    );
  else missing.push(...(await deskMissing(rest, wanted.deskChannel, guild.value, own, self.value.id, base)));
  return result;
}

async function deskMissing(
  rest: REST,
  id: string,
  guild: APIGuild,
  own: readonly string[],
  self: string,
  base: bigint,
): Promise<string[]> {
  const channel = await asked<APITextChannel>(rest, Routes.channel(id));
  if (!channel.ok)
    return [
      `THAWLINE_DESK_CHANNEL_ID: the channel ${id} cannot be seen (${channel.why}): let the bot in, or set another id.`,
    ];
  if (channel.value.guild_id !== guild.id || channel.value.type !== ChannelType.GuildText)
    return [`THAWLINE_DESK_CHANNEL_ID: ${id} is no text channel of this server: set the id of one.`];
  const there = inChannel(channel.value, guild, own, self, base);
  return NEEDED_AT_DESK.filter((name) => !has(there, NEEDED[name])).map(
    (name) => `THAWLINE_DESK_CHANNEL_ID: the bot lacks the permission "${name}" in the channel ${id}: allow it there.`,
  );
}

const has = (all: bigint, bit: bigint): boolean => (all & P.Administrator) !== 0n || (all & bit) === bit;

function permissionsOf({ roles, id }: APIGuild, own: readonly string[]): bigint {
  return roles.filter((r) => r.id === id || own.includes(r.id)).reduce((all, r) => all | BigInt(r.permissions), 0n);
}

/** As Discord computes it: the server's everyone, then all roles, then the member itself. */
function inChannel(
  { permission_overwrites: overwrites = [] }: APITextChannel,
  guild: APIGuild,
  own: readonly string[],
  self: string,
  base: bigint,
): bigint {
  let all = base;
  const apply = (list: typeof overwrites): void => {
    for (const o of list) all &= ~BigInt(o.deny);
    for (const o of list) all |= BigInt(o.allow);
  };
  apply(overwrites.filter((o) => o.id === guild.id));
  apply(overwrites.filter((o) => o.type === OverwriteType.Role && own.includes(o.id)));
  apply(overwrites.filter((o) => o.type === OverwriteType.Member && o.id === self));
  return all;
}

type Asked<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly why: string };

async function asked<T>(rest: REST, route: `/${string}`): Promise<Asked<T>> {
  try {
    return { ok: true, value: (await rest.get(route)) as T };
  } catch (error) {
    if (error instanceof DiscordAPIError) return { ok: false, why: `${error.status} ${error.message}` };
    throw error;
  }
}
