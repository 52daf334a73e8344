// Makes, changes and removes messages, keeps their files, and lets the gateway tell of it. Who may do so is asked before.

import {
  EmbedType,
  GatewayIntentBits,
  MessageFlags,
  MessageType,
  type APIAttachment,
  type APIMessage,
  type APIUser,
} from 'discord.js';
import type { Upload } from './body.js';
import type { Hub } from './hub.js';
import { emptyMessage, unknownMessage } from './refusals.js';
import { everyPart, Said } from './said.js';
import type { Channel } from './world.js';

/** The body of a message as Discord's REST takes it. */
export interface MessageBody {
  readonly content?: string | null;
  readonly embeds?: APIMessage['embeds'] | null;
  readonly components?: APIMessage['components'] | null;
  readonly attachments?: readonly { readonly id: string | number; readonly description?: string }[] | null;
  readonly flags?: number | null;
  readonly nonce?: string | number | null;
  readonly enforce_nonce?: boolean | null;
  readonly message_reference?: { readonly message_id: string } | null;
}

export interface NewMessage {
  readonly channel: Channel;
  readonly author: APIUser;
  readonly body: MessageBody;
  readonly uploads: readonly Upload[];
  readonly onlyFor?: string | undefined;
  /** What else the message carries: type, webhook_id, interaction_metadata. */
  readonly extra?: Partial<APIMessage>;
}

const MESSAGE_INTENTS = [GatewayIntentBits.GuildMessages];
const DM_INTENTS = [GatewayIntentBits.DirectMessages];

export class Messages {
  /** Uploaded bytes by the attachment's id; they are served under its url. */
  readonly files = new Map<string, Upload>();

  constructor(private readonly hub: () => Hub) {}

  /** @throws Refusal 400/50006 for a message of nothing */
  post(wish: NewMessage): Said {
    const { channel, author, body } = wish;
    const { ids, clock, world } = this.hub();
    const id = ids.next();
    const replied = body.message_reference?.message_id;
    const content = body.content ?? '';
    const mentioned = [...content.matchAll(/<@!?(\d+)>/g)].flatMap((m) => world.users.get(m[1] ?? '') ?? []);
    const nonce = body.nonce === undefined || body.nonce === null ? undefined : String(body.nonce);
    const api = {
      id,
      channel_id: channel.id,
      author,
      content,
      timestamp: clock.iso(),
      edited_timestamp: null,
      tts: false,
      mention_everyone: false,
      mentions: mentioned,
      mention_roles: [...content.matchAll(/<@&(\d+)>/g)].map((m) => m[1] ?? ''),
      attachments: this.#keepFiles(channel.id, wish.uploads, body.attachments ?? []),
      embeds: (body.embeds ?? []).map((e) => ({ type: EmbedType.Rich, ...e })),
      components: numbered(body.components),
      pinned: false,
      type: replied === undefined ? MessageType.Default : MessageType.Reply,
      flags: (body.flags ?? 0) | (wish.onlyFor === undefined ? 0 : MessageFlags.Ephemeral),
      ...(nonce === undefined ? {} : { nonce }),
      ...(replied === undefined
        ? {}
        : {
            message_reference: { type: 0, message_id: replied, channel_id: channel.id, guild_id: channel.guild_id },
            referenced_message: this.find(channel.id, replied).api,
          }),
      ...wish.extra,
    } as unknown as APIMessage;
    refuseEmpty(api);
    const said = new Said(api, nonce, wish.onlyFor);
    said.files = [...wish.uploads];
    world.messages.get(channel.id)?.push(said);
    channel.last_message_id = id;
    if (channel.thread_metadata !== undefined) {
      channel.message_count = (channel.message_count ?? 0) + 1;
      channel.total_message_sent = (channel.total_message_sent ?? 0) + 1;
    }
    this.#tell('MESSAGE_CREATE', said, channel);
    return said;
  }

  /** Keys that are absent stay as they were. @throws Refusal 400/50006 when nothing would be left */
  edit(said: Said, body: MessageBody, uploads: readonly Upload[] = [], andFlags = 0): Said {
    const { world, clock } = this.hub();
    const channel = world.channel(said.api.channel_id);
    const kept =
      body.attachments === undefined || body.attachments === null
        ? said.api.attachments
        : said.api.attachments.filter((a) => body.attachments?.some(({ id }) => String(id) === a.id));
    const changed = {
      ...said.api,
      ...(body.content === undefined ? {} : { content: body.content ?? '' }),
      ...(body.embeds === undefined
        ? {}
        : { embeds: (body.embeds ?? []).map((e) => ({ type: EmbedType.Rich, ...e })) }),
      ...(body.components === undefined ? {} : { components: numbered(body.components) }),
      attachments: [...kept, ...this.#keepFiles(channel.id, uploads, body.attachments ?? [])],
      edited_timestamp: clock.iso(),
      // IS_COMPONENTS_V2 can be added and never taken away.
      flags: ((said.api.flags ?? 0) & ~MessageFlags.Loading) | (body.flags ?? 0) | andFlags,
    } as unknown as APIMessage;
    refuseEmpty(changed);
    said.api = changed;
    said.versions.push(changed.content);
    said.files = changed.attachments.flatMap((a) => this.files.get(a.id) ?? []);
    this.#tell('MESSAGE_UPDATE', said, channel);
    return said;
  }

  remove(said: Said): void {
    const channel = this.hub().world.channel(said.api.channel_id);
    said.removed = true;
    if (said.onlyFor !== undefined) return;
    this.hub().gateway.happen({
      t: 'MESSAGE_DELETE',
      d: { id: said.id, channel_id: channel.id, guild_id: channel.guild_id },
      intents: channel.guild_id === undefined ? DM_INTENTS : MESSAGE_INTENTS,
      guildId: channel.guild_id,
      channel,
    });
  }

  /** A message that is there for the bot. @throws Refusal 404/10008 */
  find(channelId: string, id: string): Said {
    const found = this.visible(channelId).find((m) => m.id === id);
    if (found === undefined) throw unknownMessage();
    return found;
  }

  /** What the bot can list in a channel: not what was removed, not what only one person sees. Oldest first. */
  visible(channelId: string): Said[] {
    const all = this.hub().world.messages.get(channelId) ?? [];
    return all.filter((m) => !m.removed && m.onlyFor === undefined);
  }

  #tell(t: string, said: Said, channel: Channel): void {
    if (said.onlyFor !== undefined) return;
    const { world, gateway } = this.hub();
    const guild = channel.guild_id === undefined ? undefined : world.guild(channel.guild_id);
    const member = guild?.members.get(said.authorId);
    gateway.happen({
      t,
      d: {
        ...said.api,
        channel_type: channel.type,
        ...(guild === undefined ? {} : { guild_id: guild.id }),
        ...(member === undefined ? {} : { member: { ...member, user: undefined } }),
      },
      intents: guild === undefined ? DM_INTENTS : MESSAGE_INTENTS,
      guildId: guild?.id,
      channel,
    });
  }

  #keepFiles(
    channelId: string,
    uploads: readonly Upload[],
    about: readonly { readonly id: string | number; readonly description?: string }[],
  ): APIAttachment[] {
    const { ids, origin } = this.hub();
    return uploads.map((upload) => {
      const id = ids.next();
      this.files.set(id, upload);
      const url = `${origin()}/attachments/${channelId}/${id}/${encodeURIComponent(upload.name)}`;
      const description = about.find((a) => String(a.id) === upload.key)?.description;
      return {
        id,
        filename: upload.name,
        size: upload.bytes.length,
        url,
        proxy_url: url,
        content_type: upload.type,
        ...(description === undefined ? {} : { description }),
      };
    });
  }
}

function numbered(components: APIMessage['components'] | null): APIMessage['components'] {
  const copy = structuredClone(components ?? []);
  let next = 1;
  for (const part of everyPart(copy)) part.id ??= next++;
  return copy;
}

function refuseEmpty(message: APIMessage): void {
  const { content, embeds, components, attachments, flags, poll, sticker_items } = message;
  const waiting = ((flags ?? 0) & MessageFlags.Loading) !== 0;
  const parts = (components ?? []).length + embeds.length + attachments.length + (sticker_items ?? []).length;
  if (!waiting && content.trim() === '' && parts === 0 && poll === undefined) throw emptyMessage();
}
