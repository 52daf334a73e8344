// Finds the registered command that a person means, and turns what they typed into its options, as Discord's own window
// does. It sends nothing.

import {
  ApplicationCommandOptionType as Option,
  ApplicationCommandType,
  PermissionFlagsBits,
  type APIApplicationCommand,
  type APIApplicationCommandOption,
  type APIUser,
} from 'discord.js';
import type { Upload } from './body.js';
import type { Hub } from './hub.js';
import type { Channel } from './world.js';

/** A file that a person sends. */
export interface SentFile {
  readonly name: string;
  readonly type: string;
  readonly bytes: Buffer;
}

export type Value = string | number | boolean | SentFile;

/** The registered command a person means, as far as Discord shows it to them. */
export function askedCommand(hub: Hub, user: APIUser, name: string, type: ApplicationCommandType, channel: Channel) {
  const { commands, world } = hub;
  const [first = '', ...path] = type === ApplicationCommandType.ChatInput ? name.split(' ') : [name];
  const all = [...(commands.get(channel.guild_id ?? '') ?? []), ...(commands.get('global') ?? [])];
  const command = all.find((c) => c.name === first && c.type === type);
  if (command === undefined) {
    throw new Error(`The bot has registered no '${first}'; registered: ${all.map((c) => c.name).join(', ') || '-'}`);
  }
  const needs = command.default_member_permissions;
  if (needs !== null && channel.guild_id !== undefined) {
    const may = world.permissions(user.id, channel);
    const bar = BigInt(needs) === 0n ? PermissionFlagsBits.Administrator : BigInt(needs);
    if ((may & bar) !== bar) throw new Error(`${user.username} does not see the command '${first}'.`);
  }
  let accepted: readonly APIApplicationCommandOption[] = command.options ?? [];
  const steps = path.map((word) => {
    const step = accepted.find((o) => o.name === word);
    if (step?.type !== Option.Subcommand && step?.type !== Option.SubcommandGroup) {
      throw new Error(`'${first}' has no subcommand '${word}'.`);
    }
    accepted = step.options ?? [];
    return step;
  });
  if (accepted.some((o) => o.type === Option.Subcommand || o.type === Option.SubcommandGroup)) {
    throw new Error(`'${name}' needs a subcommand: ${accepted.map((o) => o.name).join(', ')}`);
  }
  return { command, path: steps, accepted };
}

/** How an interaction names its command. */
export function commandData(command: APIApplicationCommand, options: readonly unknown[]): Record<string, unknown> {
  const { id, name, type, guild_id } = command;
  return { id, name, type, options, ...(guild_id === undefined ? {} : { guild_id }) };
}

/** One option as it is sent; what it points to goes into `resolved`. */
export function optionValue(
  hub: Hub,
  name: string,
  option: APIApplicationCommandOption,
  value: Value | undefined,
  resolved: Record<string, Record<string, unknown>>,
  channel: Channel,
): object[] {
  if (value === undefined) {
    if (option.required === true) throw new Error(`/${name} needs the option '${option.name}'.`);
    return [];
  }
  const { world } = hub;
  const put = (kind: string, id: string, what: unknown): void => {
    (resolved[kind] ??= {})[id] = what;
  };
  let sent: string | number | boolean;
  if (typeof value === 'object') {
    const { ids, messages, origin } = hub;
    sent = ids.next();
    const upload: Upload = { ...value, key: '0' };
    messages.files.set(sent, upload);
    const url = `${origin()}/attachments/${channel.id}/${sent}/${encodeURIComponent(value.name)}`;
    const shape = { id: sent, filename: value.name, size: value.bytes.length, url, proxy_url: url };
    put('attachments', sent, { ...shape, content_type: value.type, ephemeral: true });
  } else {
    sent = value;
    const id = String(value);
    if (option.type === Option.User) {
      put('users', id, world.user(id));
      const member = channel.guild_id === undefined ? undefined : world.guild(channel.guild_id).members.get(id);
      if (member !== undefined) put('members', id, { ...member, user: undefined, permissions: '0' });
    }
    if (option.type === Option.Channel) put('channels', id, { ...world.channel(id), permissions: '0' });
    if (option.type === Option.Role) put('roles', id, world.guild(channel.guild_id ?? '').roles.get(id));
  }
  const fits: Partial<Record<Option, string>> = {
    [Option.Integer]: 'number',
    [Option.Number]: 'number',
    [Option.Boolean]: 'boolean',
  };
  if (typeof sent !== (fits[option.type] ?? 'string')) {
    throw new Error(`The option '${option.name}' of /${name} takes no ${typeof sent}.`);
  }
  const choices = 'choices' in option ? (option.choices ?? []) : [];
  if (choices.length > 0 && !choices.some((c) => c.value === sent)) {
    throw new Error(`'${String(sent)}' is no choice of '${option.name}'.`);
  }
  return [{ name: option.name, type: option.type, value: sent }];
}

/** Options inside their subcommand and its group. */
export function nested(path: readonly { name: string; type: Option }[], values: readonly object[]): readonly object[] {
  return path.toReversed().reduce<readonly object[]>((options, { name, type }) => [{ name, type, options }], values);
}
