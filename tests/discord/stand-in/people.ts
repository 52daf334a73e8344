// What people do in front of Discord: slash commands, presses, choices, forms, words. As Discord's own window does, it
// lets nobody press what is not there, nor send a form that is not complete: it throws instead.

import { ApplicationCommandType, GatewayIntentBits, InteractionType, MessageType, type APIUser } from 'discord.js';
import { askedCommand, commandData, nested, optionValue, type SentFile, type Value } from './command-asked.js';
import type { Hub } from './hub.js';
import type { Given } from './interactions.js';
import { filled, refuseChoice } from './filling-in.js';
import { everyPart, type Part, type Said } from './said.js';
import { addMember, openThread, threadTold, type NewThread } from './threads.js';
import { bits, type Channel } from './world.js';

export type Options = Readonly<Record<string, Value>>;

export interface SayOptions {
  readonly attachments?: readonly SentFile[];
  /** Puts a mention of the bot in front. */
  readonly mentionsBot?: boolean;
  readonly replyTo?: Said;
}

export class People {
  constructor(private readonly hub: () => Hub) {}

  /** A slash command that the bot has registered; subcommands after a space: 'case open'. */
  slash(user: APIUser, name: string, options: Options = {}, channel?: Channel): Given {
    const where = channel ?? this.#firstChannel();
    const { command, path, accepted } = askedCommand(this.hub(), user, name, ApplicationCommandType.ChatInput, where);
    const resolved: Record<string, Record<string, unknown>> = {};
    const known = new Map(accepted.map((o) => [o.name, o]));
    for (const key of Object.keys(options)) {
      if (!known.has(key)) throw new Error(`/${name} has no option '${key}'; it has: ${[...known.keys()].join(', ')}`);
    }
    const values = accepted.flatMap((option) =>
      optionValue(this.hub(), name, option, options[option.name], resolved, where),
    );
    return this.#send(InteractionType.ApplicationCommand, user, where, name, {
      ...commandData(command, nested(path, values)),
      ...(Object.keys(resolved).length === 0 ? {} : { resolved }),
    });
  }

  /** Typing in an option of a slash command: asks the bot for completions. */
  complete(user: APIUser, name: string, options: Readonly<Record<string, string | number>>, focused: string): Given {
    const where = this.#firstChannel();
    const { command, path, accepted } = askedCommand(this.hub(), user, name, ApplicationCommandType.ChatInput, where);
    const option = accepted.find((o) => o.name === focused);
    if (option === undefined || !('autocomplete' in option) || !option.autocomplete) {
      throw new Error(`The option '${focused}' of /${name} does not complete.`);
    }
    const values = accepted
      .filter((o) => options[o.name] !== undefined)
      .map((o) => ({ name: o.name, type: o.type, value: options[o.name], focused: o.name === focused }));
    const data = commandData(command, nested(path, values));
    return this.#send(InteractionType.ApplicationCommandAutocomplete, user, where, name, data);
  }

  /** A command from the menu of a message. */
  menu(user: APIUser, name: string, message: Said): Given {
    const where = this.hub().world.channel(message.api.channel_id);
    const { command } = askedCommand(this.hub(), user, name, ApplicationCommandType.Message, where);
    return this.#send(InteractionType.ApplicationCommand, user, where, name, {
      ...commandData(command, []),
      target_id: message.id,
      resolved: { messages: { [message.id]: message.api } },
    });
  }

  /** A button that is there, enabled and no link. */
  press(user: APIUser, message: Said, customId: string): Given {
    const button = this.#onMessage(user, message, customId, [2]);
    return this.#component(user, message, button, {});
  }

  /** A choice in a select; values of a string select must be offered. Users and roles are named by their ids. */
  select(user: APIUser, message: Said, customId: string, values: readonly string[]): Given {
    const select = this.#onMessage(user, message, customId, [3, 5, 6, 7, 8]);
    refuseChoice(select, values);
    return this.#component(user, message, select, { values, resolved: this.#resolved(select, values, message) });
  }

  /** The same without looking at the message: an old message still on somebody's screen, or a forged identifier. */
  pressStale(user: APIUser, message: Said, customId: string): Given {
    return this.#component(user, message, { type: 2, custom_id: customId }, {});
  }

  /** Sends the form that the bot has answered with; fields by custom_id, choices as lists. */
  submit(user: APIUser, shown: Given, fields: Readonly<Record<string, string | readonly string[]>>): Given {
    const { modal } = shown;
    if (modal === undefined) throw new Error(`'${shown.name}' was not answered with a form.`);
    const ids = everyPart(modal.components).flatMap((p) => p.custom_id ?? []);
    for (const key of Object.keys(fields)) {
      if (!ids.includes(key)) throw new Error(`The form has no field '${key}'; it has: ${ids.join(', ')}`);
    }
    const components = modal.components.map((part) => filled(part, fields));
    const data = { custom_id: modal.custom_id, components };
    return this.#send(InteractionType.ModalSubmit, user, shown.channel, modal.custom_id, data, shown.on);
  }

  /** Words in a channel, thread or direct message. */
  say(user: APIUser, channel: Channel, text: string, options: SayOptions = {}): Said {
    const { world, bot, messages } = this.hub();
    if (channel.guild_id !== undefined && !world.sees(user.id, channel)) {
      throw new Error(`${user.username} does not see the channel ${channel.name ?? channel.id}.`);
    }
    const state = channel.thread_metadata;
    if (state?.locked === true && !world.may(user.id, channel, 'ManageThreads')) {
      throw new Error(`The thread ${channel.name ?? channel.id} is locked.`);
    }
    if (state?.archived === true) {
      state.archived = false;
      threadTold('THREAD_UPDATE', channel, this.hub());
    }
    const { replyTo } = options;
    return messages.post({
      channel,
      author: user,
      body: {
        content: options.mentionsBot === true ? `<@${bot.id}> ${text}` : text,
        ...(replyTo === undefined ? {} : { message_reference: { message_id: replyTo.id } }),
      },
      uploads: (options.attachments ?? []).map((file, i) => ({ ...file, key: String(i) })),
      // A reply pings the one it answers.
      ...(replyTo === undefined
        ? {}
        : { extra: { type: MessageType.Reply, ...(options.mentionsBot ? {} : { mentions: [replyTo.api.author] }) } }),
    });
  }

  /** Puts other words in a person's message. */
  edit(message: Said, text: string): Said {
    return this.hub().messages.edit(message, { content: text });
  }

  remove(message: Said): void {
    this.hub().messages.remove(message);
  }

  /** The direct messages of a person with the bot. */
  dm(user: APIUser): Channel {
    return this.hub().world.dm(user);
  }

  /** A thread that a person opens; private unless told otherwise. */
  thread(user: APIUser, parent: Channel, wish: NewThread): Channel {
    return openThread(parent, wish, user.id, this.hub());
  }

  invite(thread: Channel, user: APIUser): void {
    addMember(thread, user.id, this.hub());
    if (user.id === this.hub().bot.id) threadTold('THREAD_CREATE', thread, this.hub());
  }

  archive(thread: Channel, { locked = false } = {}): void {
    const state = thread.thread_metadata;
    if (state === undefined) throw new Error('Only threads are archived.');
    Object.assign(state, { archived: true, locked, archive_timestamp: this.hub().clock.iso() });
    threadTold('THREAD_UPDATE', thread, this.hub());
  }

  /** Removes a thread or channel. */
  removeChannel(channel: Channel): void {
    const { world, gateway } = this.hub();
    gateway.happen({
      t: channel.thread_metadata === undefined ? 'CHANNEL_DELETE' : 'THREAD_DELETE',
      d: { ...channel },
      intents: [GatewayIntentBits.Guilds],
      guildId: channel.guild_id,
      channel,
    });
    world.channels.delete(channel.id);
  }

  #firstChannel(): Channel {
    const [first] = this.hub().world.channels.values();
    if (first === undefined) throw new Error('There is no channel yet.');
    return first;
  }

  #onMessage(user: APIUser, message: Said, customId: string, types: readonly number[]): Part {
    if (message.removed) throw new Error('The message was removed.');
    if (message.onlyFor !== undefined && message.onlyFor !== user.id) {
      throw new Error(`${user.username} does not see this message: it is for somebody else alone.`);
    }
    const found = message.parts.filter((p) => p.custom_id !== undefined && types.includes(p.type));
    const part = found.find((p) => p.custom_id === customId);
    if (part === undefined) {
      throw new Error(`The message has no '${customId}'; it has: ${found.map((p) => p.custom_id).join(', ') || '-'}`);
    }
    if (part.disabled === true) throw new Error(`'${customId}' is disabled.`);
    return part;
  }

  #component(user: APIUser, message: Said, part: Part, more: object): Given {
    const { world } = this.hub();
    const customId = part.custom_id ?? '';
    const data = { custom_id: customId, component_type: part.type, id: part.id ?? 0, ...more };
    const channel = world.channel(message.api.channel_id);
    return this.#send(InteractionType.MessageComponent, user, channel, customId, data, message);
  }

  #resolved(select: Part, values: readonly string[], message: Said): Record<string, unknown> {
    const { world } = this.hub();
    const by = (find: (id: string) => unknown): object => Object.fromEntries(values.map((id) => [id, find(id)]));
    const { guild_id } = world.channel(message.api.channel_id);
    if (select.type === 5) return { users: by((id) => world.user(id)) };
    if (select.type === 6) return { roles: by((id) => world.guild(guild_id ?? '').roles.get(id)) };
    if (select.type === 8) return { channels: by((id) => world.channel(id)) };
    return {};
  }

  #send(kind: InteractionType, user: APIUser, channel: Channel, name: string, data: object, on?: Said): Given {
    const hub = this.hub();
    const { world, interactions, ids, gateway, clock, bot } = hub;
    const guild = channel.guild_id === undefined ? undefined : world.guild(channel.guild_id);
    const member = guild?.members.get(user.id);
    if (guild !== undefined && member === undefined) throw new Error(`${user.username} is not in the guild.`);
    const id = ids.next();
    const given: Given = {
      id,
      token: `token-${id}`,
      kind,
      name,
      user,
      channel,
      on,
      sentAt: clock.now(),
      sentReal: performance.now(),
      followUps: [],
      refused: [],
    };
    interactions.all.push(given);
    gateway.happen({
      t: 'INTERACTION_CREATE',
      d: {
        id,
        application_id: hub.applicationId,
        type: kind,
        data,
        token: given.token,
        version: 1,
        channel_id: channel.id,
        channel: { ...channel, permissions: world.permissions(user.id, channel).toString() },
        ...(guild === undefined
          ? { user, context: 1, authorizing_integration_owners: { 1: user.id } }
          : {
              guild_id: guild.id,
              guild: { id: guild.id, locale: 'en-US', features: [] },
              guild_locale: 'en-US',
              member: { ...member, permissions: world.permissions(user.id, channel).toString() },
              context: 0,
              authorizing_integration_owners: { 0: guild.id },
            }),
        ...(on === undefined ? {} : { message: on.api }),
        app_permissions: guild === undefined ? bits(['SendMessages']) : world.permissions(bot.id, channel).toString(),
        locale: 'en-US',
        entitlements: [],
        attachment_size_limit: 10 * 1024 * 1024,
      },
      intents: [],
      guildId: guild?.id,
    });
    return given;
  }
}
