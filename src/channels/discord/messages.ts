/** Written messages: those of a case are said in it, a direct one or a mention that describes a problem opens one. */
import type { APIAttachment, APIChannel, APIMessage, APIUser } from 'discord.js';
import { ChannelType, MessageFlags, MessageType, Routes } from 'discord.js';
import { wordsFor } from '../../knowledge/facts.js';
import type { Said } from '../../message/incoming.js';
import type { Room } from '../../message/room.js';
import type { Bot } from './bot-parts.js';
import { maySpeak } from './may-speak.js';
import { refOf } from './photos.js';
import { openCase, sayInRoom, tellRoom, type Where } from './say-in-room.js';

export interface Written {
  readonly id: string;
  readonly channel: string;
  readonly guild: string | null;
  readonly author: APIUser;
  /** the writer's roles on the server, where the event tells them */
  readonly roles: readonly string[] | null;
  readonly text: string;
  readonly photos: readonly string[];
  readonly mentionsUs: boolean;
  readonly edited: string | null;
}

type Event = Omit<APIMessage, 'mentions'> & {
  readonly mentions?: readonly { readonly id: string }[];
  readonly guild_id?: string | undefined;
  readonly member?: { readonly roles?: readonly string[] } | undefined;
};

const LONGEST = 4000;
const SPOKEN: ReadonlySet<number> = new Set([MessageType.Default, MessageType.Reply]);

/** Null for what nobody wrote: programs, joins, pins. */
export function writtenBy(m: Event, self: string, guild: string | null): Written | null {
  if (!m.author || m.author.bot || m.author.id === self || m.webhook_id || !SPOKEN.has(m.type)) return null;
  const mention = new RegExp(`<@!?${self}>`, 'g');
  return {
    id: m.id,
    channel: m.channel_id,
    guild: m.guild_id ?? guild,
    author: m.author,
    roles: m.member?.roles ?? null,
    text: (m.content ?? '')
      .replaceAll(mention, ' ')
      .replaceAll(/[ \t]+/g, ' ')
      .trim()
      .slice(0, LONGEST),
    photos: (m.attachments ?? []).filter(isPhoto).map((a) => refOf(m.channel_id, m.id, a.id)),
    mentionsUs: (m.mentions ?? []).some((u) => u.id === self),
    edited: m.edited_timestamp ?? null,
  };
}

const isPhoto = ({ content_type: type, filename }: APIAttachment): boolean =>
  type?.startsWith('image/') ?? /\.(?:png|jpe?g|gif|webp|heic)$/i.test(filename);

/** Written in a case, directly to the bot, or with its name. */
export const isForUs = ({ front }: Bot, { guild, mentionsUs, channel }: Written): boolean =>
  guild === null || mentionsUs || front.rooms.at(channel) !== null;

/** Somebody sends more than can be read: what is beyond is left out. */
export async function tellTooFast(bot: Bot, w: Written): Promise<void> {
  const room = bot.front.rooms.at(w.channel);
  const person = await bot.people.who(w.author, w.roles);
  if (room) return tellRoom(bot, room, w.id, 'discord.too-fast', person);
  return answerAt(bot, w, bot.front.say(wordsFor(person.role), 'discord.too-fast'));
}

export async function onWritten(bot: Bot, w: Written): Promise<void> {
  const room = bot.front.rooms.at(w.channel);
  if (room) return inCase(bot, room, w);
  if (w.guild !== null && !w.mentionsUs) return;
  const person = await bot.people.who(w.author, w.roles);
  const said = saidBy(w);
  const where = w.guild === null ? { direct: w.channel } : await threadHome(bot, w.channel, w.guild);
  if (!said || !where) {
    const key = said ? 'discord.no-place' : 'discord.how-to-start';
    return answerAt(bot, w, bot.front.say(wordsFor(person.role), key));
  }
  const opened = await openCase(bot, where, { id: w.id, person, said, photos: w.photos });
  if (w.guild === null || opened.place === null) return;
  await answerAt(bot, w, bot.front.say(wordsFor(person.role), 'discord.opened', { place: `<#${opened.place}>` }));
}

async function inCase(bot: Bot, room: Room, w: Written): Promise<void> {
  const { front, people } = bot;
  const person =
    w.author.id === room.owner && w.roles === null
      ? await people.who(w.author, rolesOf(bot, room))
      : await people.who(w.author, w.roles);
  const said = saidBy(w);
  if (!maySpeak(room, person)) tellRoom(bot, room, w.id, 'discord.not-yours', person);
  else if (said) await sayInRoom(bot, room.conversation, { id: w.id, person, said, photos: w.photos });
  else if (!bot.reads && room.guild !== null && !w.mentionsUs) tellRoom(bot, room, w.id, 'discord.unread', person);
  front.rooms.seen(room.conversation, w.id);
}

/** In a message that is fetched later Discord does not tell the roles: those of the case's own person are kept with it. */
function rolesOf({ front }: Bot, room: Room): readonly string[] {
  const kept = room.role === 'senior' ? front.roles.senior : room.role === 'technician' ? front.roles.technician : null;
  return kept === null ? [] : [kept];
}

const saidBy = ({ text, photos }: Written): Said | null =>
  text ? { kind: 'text', text } : photos.length > 0 ? { kind: 'photos' } : null;

/** An edited message is a correction of what it said before. Discord also tells of edits that change no word. */
export async function onEdited(bot: Bot, w: Written): Promise<void> {
  const { front } = bot;
  const room = front.rooms.at(w.channel);
  const caseId = room && front.caseOf(room.conversation);
  if (!room || caseId === null || w.edited === null || !w.text) return;
  // an edit of what was never said here: it is said now
  if (!front.taken(caseId, w.id)) return;
  const person = await bot.people.who(w.author, w.roles ?? rolesOf(bot, room));
  if (!maySpeak(room, person)) return;
  const before = front.textOf(caseId, w.id);
  const text = front.say(wordsFor(person.role), 'discord.say.correction', { text: w.text }).slice(0, LONGEST);
  if (before === w.text || before === text) return;
  await sayInRoom(bot, room.conversation, {
    id: `${w.id}/${Date.parse(w.edited)}`,
    person,
    said: { kind: 'text', text },
  });
}

/** A deleted message blanks its words in the case; what was concluded from it stands until it is taken back. */
export function onDeleted({ front }: Bot, channel: string, ids: readonly string[]): void {
  const room = front.rooms.at(channel);
  const caseId = room && front.caseOf(room.conversation);
  if (caseId) for (const id of ids) front.rooms.blank(caseId, id);
}

/** The text channel under which a private thread can be opened from here. */
async function threadHome({ rest }: Bot, channel: string, guild: string): Promise<Where | null> {
  const here = (await rest.get(Routes.channel(channel))) as APIChannel;
  if (here.type === ChannelType.GuildText) return { guild, parent: channel };
  const isThread = here.type === ChannelType.PublicThread || here.type === ChannelType.PrivateThread;
  return isThread && here.parent_id ? { guild, parent: here.parent_id } : null;
}

/** An answer under the message itself, outside of any case; Discord takes it once. */
async function answerAt({ rest }: Bot, w: Written, content: string): Promise<void> {
  await rest.post(Routes.channelMessages(w.channel), {
    body: {
      content,
      nonce: `h${w.id}`,
      enforce_nonce: true,
      message_reference: { message_id: w.id, fail_if_not_exists: false },
      allowed_mentions: { parse: [] },
      flags: MessageFlags.SuppressEmbeds,
    },
  });
}
