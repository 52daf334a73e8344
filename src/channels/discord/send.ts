/** One post of the outbox to Discord. Creating is made harmless to repeat: by its nonce, or by looking first. */
import {
  ChannelType,
  MessageFlags,
  Routes,
  ThreadAutoArchiveDuration,
  type APIMessage,
  type APIThreadChannel,
  type RawFile,
  type REST,
} from 'discord.js';
import { wordsFor, type Role } from '../../knowledge/facts.js';
import type { Post } from '../../message/post.js';
import { png } from '../png.js';
import { KINDS } from './answer-posts.js';
import { readMessage, readSettle, readThread, type MessageBody } from './body.js';
import { escapeText } from './escape.js';
import { DESK_ROOM, type Front } from './front.js';
import { CODES, isCode } from './outcome.js';
import { photosOf } from './photos.js';
import { LONGEST } from './split.js';

/** How long Discord is trusted to know a nonce again, in milliseconds. */
const NONCE_MS = 60_000;
/** How many messages are looked through for one that may have arrived. */
const LOOK_BACK = 100;

export interface Sender {
  readonly rest: REST;
  readonly front: Front;
  readonly self: string;
}

/** Gives the message's id, or null where the post makes none. */
export async function send(sender: Sender, post: Post): Promise<string | null> {
  switch (post.kind) {
    case KINDS.thread:
      return openThread(sender, post);
    case KINDS.settle:
      return settle(sender, post);
    default:
      return sendMessage(sender, post);
  }
}

const placeOf = ({ front }: Sender, room: string): string => {
  const place = room === DESK_ROOM ? front.deskChannel : front.rooms.get(room)?.place;
  if (!place) throw new Error(`the room ${room} has no place yet`);
  return place;
};

async function sendMessage(sender: Sender, post: Post): Promise<string | null> {
  const place = placeOf(sender, post.room);
  const body = readMessage(post.body);
  if (post.message === null && isLongAgo(sender, post)) {
    const found = await lookFor(sender, place, post, body);
    if (found) return found;
  }
  const { files, attachments, links } = await filesOf(sender, body);
  const content = links === '' ? body.content : `${body.content}\n${links}`.slice(0, LONGEST);
  const shared = {
    content,
    components: body.rows,
    allowed_mentions: { parse: [] },
    flags: MessageFlags.SuppressEmbeds,
    ...(attachments.length > 0 || post.message !== null ? { attachments } : {}),
  };
  if (post.message !== null) {
    await sender.rest.patch(Routes.channelMessage(place, post.message), { body: shared, files });
    return post.message;
  }
  const create = async (): Promise<APIMessage> =>
    (await sender.rest.post(Routes.channelMessages(place), {
      body: { ...shared, nonce: post.id, enforce_nonce: true },
      files,
    })) as APIMessage;
  try {
    return (await create()).id;
  } catch (error) {
    if (!isCode(error, CODES.archived)) throw error;
    await sender.rest.patch(Routes.channel(place), { body: { archived: false } });
    return (await create()).id;
  }
}

/** Whether it was tried so long ago that a nonce may be forgotten. */
const isLongAgo = ({ front }: Sender, { triedAt }: Post): boolean =>
  triedAt !== null && front.now().getTime() - Date.parse(triedAt) > NONCE_MS;

/** Our own message with this nonce, with these buttons, or with these very words, written since it was tried. */
async function lookFor({ rest, self }: Sender, place: string, post: Post, body: MessageBody): Promise<string | null> {
  const query = new URLSearchParams({ limit: String(LOOK_BACK) });
  const latest = (await rest.get(Routes.channelMessages(place), { query })) as APIMessage[];
  const marks = JSON.stringify(body.rows).match(/"custom_id":"[^"]+"/g) ?? [];
  const since = Date.parse(post.triedAt ?? '') - CLOCKS_APART_MS;
  const found = latest
    .filter((m) => m.author.id === self && Date.parse(m.timestamp) >= since)
    .find((m) => {
      if (m.nonce !== undefined) return String(m.nonce) === post.id;
      if (post.kind === KINDS.answer && marks.some((mark) => mark.includes(post.id)))
        return JSON.stringify(m.components).includes(post.id);
      return m.content === body.content.trim();
    });
  return found?.id ?? null;
}
const CLOCKS_APART_MS = 60_000;

async function filesOf(
  sender: Sender,
  body: MessageBody,
): Promise<{ files: RawFile[]; attachments: { id: string; filename: string; description?: string }[]; links: string }> {
  const own = await Promise.all(
    body.files.map(async ({ name, alt, svg, text }) => ({
      file: { name, data: svg === undefined ? Buffer.from(text ?? '') : await png(svg) },
      alt,
    })),
  );
  const photos = await photosOf(sender, body.photos);
  const all = [...own, ...photos.files.map((file) => ({ file, alt: null }))];
  return {
    files: all.map(({ file }) => file),
    attachments: all.map(({ file, alt }, i) => ({
      id: String(i),
      filename: file.name,
      ...(alt === null ? {} : { description: alt.slice(0, LONGEST_ALT) }),
    })),
    links: photos.links.join('\n'),
  };
}
const LONGEST_ALT = 1024;

/** A private thread of the room; one that an earlier attempt opened is found by its name. */
async function openThread(sender: Sender, post: Post): Promise<null> {
  const { rest, front, self } = sender;
  const room = front.rooms.get(post.room);
  if (!room || room.parent === null || room.guild === null) throw new Error(`the room ${post.room} has no channel`);
  let place = room.place;
  if (place === null) {
    const { name } = readThread(post.body);
    const made = post.triedAt === null ? null : await threadNamed(rest, room.guild, room.parent, name, self);
    place = made ?? (await newThread(rest, room.parent, name));
    front.rooms.placed(room.conversation, place);
  }
  await rest.put(Routes.threadMembers(place, room.owner));
  return null;
}

async function newThread(rest: REST, parent: string, name: string): Promise<string> {
  const body = {
    name,
    type: ChannelType.PrivateThread,
    invitable: false,
    auto_archive_duration: ThreadAutoArchiveDuration.OneWeek,
  };
  const thread = (await rest.post(Routes.threads(parent), { body })) as APIThreadChannel;
  return thread.id;
}

async function threadNamed(
  rest: REST,
  guild: string,
  parent: string,
  name: string,
  self: string,
): Promise<string | null> {
  const active = (await rest.get(Routes.guildActiveThreads(guild))) as { threads: APIThreadChannel[] };
  return active.threads.find((t) => t.parent_id === parent && t.name === name && t.owner_id === self)?.id ?? null;
}

/** Takes the controls off an answered question and says what was answered. A message that is gone needs none. */
async function settle(sender: Sender, post: Post): Promise<null> {
  const { rest, front } = sender;
  const { post: earlier, chosen } = readSettle(post.body);
  const message = front.posts.find(earlier)?.message;
  const room = front.rooms.get(post.room);
  if (!message || !room) return null;
  const place = placeOf(sender, post.room);
  const words = wordsFor(room.role as Role);
  const said =
    chosen === null
      ? front.say(words, 'discord.answered.otherwise')
      : front.say(words, 'discord.answered', { value: escapeText(chosen) });
  try {
    const { content } = (await rest.get(Routes.channelMessage(place, message))) as APIMessage;
    const line = `-# ${said}`;
    if (content.endsWith(line)) return null;
    const whole = content.length + line.length < LONGEST ? `${content}\n${line}` : content;
    await rest.patch(Routes.channelMessage(place, message), {
      body: { content: whole, components: [], allowed_mentions: { parse: [] } },
    });
  } catch (error) {
    if (!isCode(error, CODES.unknownMessage)) throw error;
  }
  return null;
}
