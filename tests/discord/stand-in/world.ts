// What exists: users, guilds, roles, members, channels, threads, direct messages. It keeps and finds; it sends nothing.

import { ChannelType, PermissionFlagsBits, type APIGuildMember, type APIRole, type APIUser } from 'discord.js';
import type { Clock, Ids } from './clock.js';
import { unknownChannel, unknownGuild, unknownUser } from './refusals.js';
import type { Said } from './said.js';

export type Permission = keyof typeof PermissionFlagsBits;

interface Overwrite {
  readonly id: string;
  /** 0 a role, 1 a member. */
  readonly type: 0 | 1;
  allow: string;
  deny: string;
}

/** A channel, thread or direct message, in the shape in which Discord sends it. */
export interface Channel {
  readonly id: string;
  readonly type: ChannelType;
  readonly guild_id?: string;
  name?: string;
  readonly parent_id?: string | null;
  readonly permission_overwrites?: Overwrite[];
  readonly recipients?: APIUser[];
  last_message_id: string | null;
  readonly owner_id?: string;
  readonly thread_metadata?: {
    archived: boolean;
    locked: boolean;
    invitable?: boolean;
    auto_archive_duration: number;
    archive_timestamp: string;
    readonly create_timestamp: string;
  };
  message_count?: number;
  total_message_sent?: number;
  member_count?: number;
  rate_limit_per_user?: number;
  readonly position?: number;
  topic?: string | null;
  readonly nsfw?: boolean;
  readonly flags?: number;
}

export interface ThreadMember {
  readonly id: string;
  readonly user_id: string;
  readonly join_timestamp: string;
  readonly flags: number;
}

export interface Guild {
  readonly id: string;
  readonly name: string;
  readonly ownerId: string;
  readonly roles: Map<string, APIRole>;
  readonly members: Map<string, APIGuildMember>;
}

const EVERYONE: Permission[] = [
  'ViewChannel',
  'SendMessages',
  'SendMessagesInThreads',
  'ReadMessageHistory',
  'AttachFiles',
  'EmbedLinks',
  'AddReactions',
  'UseApplicationCommands',
  'CreatePublicThreads',
  'CreatePrivateThreads',
];

/** The sum of some permissions, as Discord writes it. */
export function bits(names: readonly Permission[]): string {
  return names.reduce((sum, name) => sum | PermissionFlagsBits[name], 0n).toString();
}

export class World {
  readonly users = new Map<string, APIUser>();
  readonly guilds = new Map<string, Guild>();
  readonly channels = new Map<string, Channel>();
  readonly threadMembers = new Map<string, Map<string, ThreadMember>>();
  /** Per channel, oldest first; also what was removed and what only one person sees. */
  readonly messages = new Map<string, Said[]>();
  /** Users who take no direct messages from the bot. */
  readonly closedToDms = new Set<string>();

  constructor(
    readonly clock: Clock,
    readonly ids: Ids,
  ) {}

  addUser(name: string, { bot = false } = {}): APIUser {
    const username = name.toLowerCase().replace(/[^a-z0-9._]+/g, '_');
    const user: APIUser = { id: this.ids.next(), username, global_name: name, discriminator: '0', avatar: null, bot };
    this.users.set(user.id, user);
    return user;
  }

  addGuild(name: string, owner: APIUser): Guild {
    const id = this.ids.next();
    const guild: Guild = { id, name, ownerId: owner.id, roles: new Map(), members: new Map() };
    guild.roles.set(id, this.#role(id, '@everyone', EVERYONE, 0));
    this.guilds.set(id, guild);
    this.join(guild, owner);
    return guild;
  }

  addRole(guild: Guild, name: string, permissions: readonly Permission[] = []): APIRole {
    const role = this.#role(this.ids.next(), name, permissions, guild.roles.size);
    guild.roles.set(role.id, role);
    return role;
  }

  join(guild: Guild, user: APIUser, roles: readonly APIRole[] = []): APIGuildMember {
    const member = {
      user,
      roles: roles.map((r) => r.id),
      nick: null,
      joined_at: this.clock.iso(),
      deaf: false,
      mute: false,
      flags: 0,
    } as unknown as APIGuildMember;
    guild.members.set(user.id, member);
    return member;
  }

  addChannel(guild: Guild, name: string): Channel {
    return this.keep({
      id: this.ids.next(),
      type: ChannelType.GuildText,
      guild_id: guild.id,
      name,
      parent_id: null,
      position: this.channels.size,
      permission_overwrites: [],
      last_message_id: null,
      rate_limit_per_user: 0,
      topic: null,
      nsfw: false,
      flags: 0,
    });
  }

  keep(channel: Channel): Channel {
    this.channels.set(channel.id, channel);
    this.messages.set(channel.id, []);
    return channel;
  }

  /** The direct messages between the bot and a person; made when there are none. */
  dm(user: APIUser): Channel {
    const known = [...this.channels.values()].find((c) => c.recipients?.some((r) => r.id === user.id));
    return (
      known ??
      this.keep({ id: this.ids.next(), type: ChannelType.DM, recipients: [user], last_message_id: null, flags: 0 })
    );
  }

  user(id: string): APIUser {
    const user = this.users.get(id);
    if (user === undefined) throw unknownUser();
    return user;
  }

  guild(id: string): Guild {
    const guild = this.guilds.get(id);
    if (guild === undefined) throw unknownGuild();
    return guild;
  }

  channel(id: string): Channel {
    const channel = this.channels.get(id);
    if (channel === undefined) throw unknownChannel();
    return channel;
  }

  threads(guild: Guild): Channel[] {
    return [...this.channels.values()].filter((c) => c.guild_id === guild.id && c.thread_metadata !== undefined);
  }

  /** What this user may do here; threads take it from the channel they belong to. Owners and administrators: all. */
  permissions(userId: string, channel: Channel): bigint {
    const all = Object.values(PermissionFlagsBits).reduce((sum, bit) => sum | bit, 0n);
    if (channel.guild_id === undefined) return all;
    const guild = this.guild(channel.guild_id);
    const member = guild.members.get(userId);
    if (member === undefined) return 0n;
    const held = [guild.id, ...member.roles].flatMap((id) => guild.roles.get(id) ?? []);
    let may = held.reduce((sum, role) => sum | BigInt(role.permissions), 0n);
    if (guild.ownerId === userId || (may & PermissionFlagsBits.Administrator) !== 0n) return all;
    const at = channel.thread_metadata === undefined ? channel : this.channel(channel.parent_id ?? '');
    for (const ids of [[guild.id], member.roles, [userId]]) {
      const found = (at.permission_overwrites ?? []).filter((o) => ids.includes(o.id));
      for (const { deny } of found) may &= ~BigInt(deny);
      for (const { allow } of found) may |= BigInt(allow);
    }
    return may;
  }

  may(userId: string, channel: Channel, permission: Permission): boolean {
    return (this.permissions(userId, channel) & PermissionFlagsBits[permission]) !== 0n;
  }

  /** Whether somebody sees a channel: private threads only their members and those who manage threads. */
  sees(userId: string, channel: Channel): boolean {
    if (channel.recipients !== undefined) return true;
    if (!this.may(userId, channel, 'ViewChannel')) return false;
    if (channel.type !== ChannelType.PrivateThread) return true;
    return this.threadMembers.get(channel.id)?.has(userId) === true || this.may(userId, channel, 'ManageThreads');
  }

  /** Takes a permission from a user in one channel, or gives it back. */
  overwrite(channel: Channel, userId: string, permission: Permission, to: 'allow' | 'deny'): void {
    const all = channel.permission_overwrites;
    if (all === undefined) throw new Error('Permissions are set on a channel of a guild, not on threads or DMs.');
    let mine = all.find((o) => o.id === userId);
    if (mine === undefined) all.push((mine = { id: userId, type: 1, allow: '0', deny: '0' }));
    const bit = PermissionFlagsBits[permission];
    const other = to === 'allow' ? 'deny' : 'allow';
    mine[to] = (BigInt(mine[to]) | bit).toString();
    mine[other] = (BigInt(mine[other]) & ~bit).toString();
  }

  #role(id: string, name: string, permissions: readonly Permission[], position: number): APIRole {
    const role: unknown = {
      id,
      name,
      permissions: bits(permissions),
      position,
      color: 0,
      colors: { primary_color: 0, secondary_color: null, tertiary_color: null },
      hoist: false,
      managed: false,
      mentionable: false,
      flags: 0,
    };
    return role as APIRole;
  }
}
