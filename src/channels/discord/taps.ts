/** Buttons, menus and forms of a case: first acknowledged, then said in the case. An old or forged one changes nothing. */
import {
  ComponentType,
  InteractionType,
  type APIMessageComponentInteraction,
  type APIModalSubmitInteraction,
} from 'discord.js';
import { wordsFor, type Role } from '../../knowledge/facts.js';
import type { Said } from '../../message/incoming.js';
import type { Room } from '../../message/room.js';
import { acknowledge, add, silently, told } from './acknowledge.js';
import { readAsked, type Asked } from './body.js';
import type { Bot } from './bot-parts.js';
import { deskTap } from './desk-taps.js';
import { fieldsOf, measureForm, writeForm } from './forms.js';
import { tapOf, type Tap } from './ids.js';
import { maySpeak } from './may-speak.js';
import { sayInRoom, tellRoom, type Speech } from './say-in-room.js';
import { openFromForm } from './slash.js';
import { take } from './take.js';
import { tappedOf, userOf } from './tapped.js';

export type Pressed = APIMessageComponentInteraction | APIModalSubmitInteraction;

export async function onTap(bot: Bot, i: Pressed): Promise<void> {
  const { front, people } = bot;
  const tapped = tappedOf(bot, i);
  const tap = tapOf(i.data.custom_id);
  const user = userOf(i);
  const place = i.channel?.id ?? i.message?.channel_id ?? '';
  // who taps in a direct channel is the one it belongs to
  const inRoom = tap && tap.does !== 'desk' && tap.does !== 'open' ? roomOf(bot, tap, place) : null;
  const person = i.member
    ? people.person(user, i.member.roles)
    : people.person(user, rolesKept(bot, inRoom?.room ?? null));
  const words = wordsFor(person.role);
  const say = (key: string): Promise<boolean> => quickly(bot, tapped, told(front.say(words, key)));
  if (!tap) return void (await say('discord.forged'));
  if (tap.does === 'desk') return deskTap(bot, i, tap, person);
  if (tap.does === 'open')
    return i.type === InteractionType.ModalSubmit && tap.place === place
      ? openFromForm(bot, i)
      : void (await say('discord.forged'));
  if (!inRoom) return void (await say('discord.forged'));
  const { room, asked } = inRoom;
  const caseId = front.caseOf(room.conversation);
  // one that counted already, begun again or told twice
  if (caseId !== null && front.taken(caseId, i.id)) {
    await quickly(bot, tapped, silently);
    return bot.taken.done(i.id);
  }
  if (!maySpeak(room, person)) return void (await say('discord.not-yours'));
  // whether the case went on elsewhere is looked at when it is this tap's turn
  const isOld = 'post' in tap && tap.does !== 'why' && front.posts.asking(room.conversation)?.id !== tap.post;
  if (isOld) return void (await say('discord.stale'));

  const isForm = i.type === InteractionType.ModalSubmit;
  if (!isForm && tap.does === 'write')
    return void (await quickly(bot, tapped, writeForm(front, words, room.conversation)));
  if (!isForm && tap.does === 'measure')
    return void (await quickly(bot, tapped, measureForm(front, words, tap.post, asked?.reading ?? '')));
  const meant = saidBy(bot, i, tap, asked, person.role);
  if ('wrong' in meant) return void (await quickly(bot, tapped, told(meant.wrong)));
  const taken = await take(bot, i, silently);
  if (taken === 'known') return;
  const { said } = meant;
  const speech: Speech = { id: i.id, person, said };
  const urgent = tap.does === 'person' || (said.kind === 'text' && front.isUrgent(said.text, person.role));
  const went = await bot.work.hear(person.id, { urgent, place }, async () => {
    // another tap on the same question may have been faster
    if ('post' in tap && tap.does !== 'why' && isStale(bot, room, tap.post)) {
      await add(bot.rest, tapped, front.say(words, 'discord.stale'));
      return;
    }
    const result = await sayInRoom(bot, room.conversation, speech);
    if (!result.ok) await add(bot.rest, tapped, front.say(words, 'discord.forged'));
    else if (taken === 'late') tellRoom(bot, room, i.id, 'discord.late', person);
  });
  if (went === 'full') await add(bot.rest, tapped, front.say(words, 'discord.too-fast'));
  if (went !== 'left') bot.taken.done(i.id);
}

const quickly = (
  bot: Bot,
  tapped: ReturnType<typeof tappedOf>,
  body: Parameters<typeof acknowledge>[2],
): Promise<boolean> => bot.work.acknowledging(() => acknowledge(bot.rest, tapped, body));

function rolesKept({ front }: Bot, room: Room | null): string[] {
  const role = room?.role;
  const kept = role === 'senior' ? front.roles.senior : role === 'technician' ? front.roles.technician : null;
  return kept === null ? [] : [kept];
}

/** The room that a control stands in, and what its post asks; null where the control does not belong there. */
function roomOf(
  { front }: Bot,
  tap: Exclude<Tap, { does: 'desk' } | { does: 'open' }>,
  place: string,
): { readonly room: Room; readonly asked: Asked } | null {
  const post = 'post' in tap ? front.posts.find(tap.post) : null;
  const room = front.rooms.get('post' in tap ? (post?.room ?? '') : tap.place);
  if (!room || room.place !== place) return null;
  return { room, asked: readAsked(post?.ask ?? null) };
}

/** Something newer has been asked since, or the case went on elsewhere. */
function isStale({ front }: Bot, room: Room, post: string): boolean {
  const asking = front.posts.asking(room.conversation);
  if (asking?.id !== post) return true;
  const asked = readAsked(asking.ask);
  const caseId = front.caseOf(room.conversation);
  const stands = caseId === null ? null : front.lastAnswer(caseId)?.ask;
  return !asked || !stands || stands.finding !== asked.finding || stands.reading !== asked.reading;
}

function saidBy(
  { front }: Bot,
  i: Pressed,
  tap: Exclude<Tap, { does: 'desk' } | { does: 'open' }>,
  asked: Asked,
  role: Role,
): { readonly said: Said } | { readonly wrong: string } {
  const words = wordsFor(role);
  const text = (spoken: string): { said: Said } => ({ said: { kind: 'text', text: spoken } });
  const forged = { wrong: front.say(words, 'discord.forged') };
  switch (tap.does) {
    case 'choose': {
      const value = asked?.choices[tap.index]?.value;
      return value === undefined ? forged : { said: answerTo(asked, [value]) };
    }
    case 'not-sure':
      return { said: answerTo(asked, ['not-sure']) };
    case 'menu': {
      const chosen =
        i.data && 'component_type' in i.data && i.data.component_type === ComponentType.StringSelect
          ? i.data.values
          : [];
      const known = chosen.length > 0 && chosen.every((v) => asked?.choices.some((c) => c.value === v));
      return known ? { said: answerTo(asked, chosen) } : forged;
    }
    case 'why':
      return text(front.say(words, 'discord.say.why'));
    case 'person':
      return text(front.say(words, 'discord.say.person'));
    case 'write': {
      const { text: written = '' } = fieldsOf('components' in i.data ? i.data.components : []);
      return written ? text(written) : { wrong: front.say(words, 'discord.not-text') };
    }
    case 'measure': {
      const { value = '', at = '' } = fieldsOf('components' in i.data ? i.data.components : []);
      const read = front.measured(asked?.reading ?? '', value, at);
      return read.ok ? { said: { kind: 'reading', reading: read.reading } } : { wrong: read.message };
    }
  }
}

/** A question about the talk itself has no finding: it is answered by its word. */
function answerTo(asked: Asked, values: readonly string[]): Said {
  const finding = asked?.finding ?? asked?.reading ?? null;
  const [value = 'not-sure'] = values;
  if (finding === null) return { kind: 'text', text: value };
  return { kind: 'answer', finding, value: values.length > 1 ? [...values] : value };
}
