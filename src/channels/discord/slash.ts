/** The commands: open a case, take one up again, judge one reading, show what is known. */
import {
  ChannelType,
  type APIChatInputApplicationCommandInteraction,
  type APIModalSubmitInteraction,
} from 'discord.js';
import { wordsFor } from '../../knowledge/facts.js';
import { png } from '../png.js';
import { acknowledge, fillIn, privately } from './acknowledge.js';
import type { Bot } from './bot-parts.js';
import { escapeText } from './escape.js';
import { fieldsOf, openForm } from './forms.js';
import { maySpeak } from './may-speak.js';
import { CODES, isCode } from './outcome.js';
import { openCase, openRoom, sayInRoom, type Where } from './say-in-room.js';
import { LONGEST } from './split.js';
import { take } from './take.js';
import { tappedOf, userOf } from './tapped.js';
import type { Person } from './people.js';

type Command = APIChatInputApplicationCommandInteraction;

export async function onCommand(bot: Bot, i: Command): Promise<void> {
  const { front, rest, work } = bot;
  const options = optionsOf(i);
  const user = userOf(i);
  const tapped = tappedOf(bot, i);
  if (i.data.name === 'case' && !options['problem']) {
    const role = i.member ? bot.people.person(user, i.member.roles).role : 'homeowner';
    await work.acknowledging(() => acknowledge(rest, tapped, openForm(front, wordsFor(role), i.channel.id)));
    return;
  }
  if ((await take(bot, i, privately)) === 'known') return;
  const person = await bot.people.who(user, i.member?.roles ?? null);
  await inTurn(bot, i, person, options['problem'] ?? '', () => answered(bot, i, person, options));
}

/** When it is this person's turn; one who sends too much is told so. */
async function inTurn(
  bot: Bot,
  i: Command | APIModalSubmitInteraction,
  person: Person,
  text: string,
  job: () => Promise<unknown>,
): Promise<void> {
  const { front, rest, work, taken } = bot;
  const turn = { urgent: front.isUrgent(text, person.role), place: i.id };
  const went = await work.hear(person.id, turn, async () => void (await job()));
  if (went === 'full' || went === 'dropped')
    await fillIn(rest, tappedOf(bot, i), front.say(wordsFor(person.role), 'discord.too-fast'));
  if (went !== 'left') taken.done(i.id);
}

async function answered(bot: Bot, i: Command, person: Person, options: Record<string, string>): Promise<unknown> {
  const { front, rest } = bot;
  const tapped = tappedOf(bot, i);
  const words = wordsFor(person.role);
  switch (i.data.name) {
    case 'case':
      return open(bot, i, person, options['problem'] ?? '');
    case 'resume':
      return resume(bot, i, person, options['code'] ?? null);
    case 'reading': {
      const { part = '', value, ...more } = options;
      const dot = part.lastIndexOf('.');
      const args = [part.slice(0, dot), part.slice(dot + 1), ...(value ? [value] : [])];
      const flags = Object.entries(more).flatMap(([name, given]) => [`--${name}`, given]);
      const judged = front.judged([...args, ...flags], person.role);
      if (!judged.ok) return fillIn(rest, tapped, escapeText(judged.message));
      const picture = judged.picture;
      const files = picture ? [{ name: 'reading.png', data: await png(picture.svg), alt: picture.alt }] : [];
      return fillIn(rest, tapped, escapeText(judged.text), { files });
    }
    case 'summary': {
      const code = options['code']?.toUpperCase() ?? null;
      const here = front.rooms.at(i.channel.id);
      const room = code === null ? here : front.rooms.ofCase(code);
      const caseId = code ?? (here ? front.caseOf(here.conversation) : null);
      // who has the code may read the case; without one, who may speak in it
      const allowed = code !== null || (room !== null && maySpeak(room, person));
      const text = caseId !== null && allowed ? front.summary(caseId, words) : null;
      return fillIn(
        rest,
        tapped,
        text === null ? front.say(words, 'discord.no-case') : escapeText(text).slice(0, LONGEST),
      );
    }
    default:
      return fillIn(rest, tapped, front.say(words, 'discord.forged'));
  }
}

/** The form that `/case` without words shows, sent in. */
export async function openFromForm(bot: Bot, form: APIModalSubmitInteraction): Promise<void> {
  if ((await take(bot, form, privately)) === 'known') return;
  const person = await bot.people.who(userOf(form), form.member?.roles ?? null);
  const { text = '' } = fieldsOf(form.data.components);
  const empty = (): Promise<unknown> =>
    fillIn(bot.rest, tappedOf(bot, form), bot.front.say(wordsFor(person.role), 'discord.not-text'));
  await inTurn(bot, form, person, text, () => (text ? open(bot, form, person, text) : empty()));
}

async function open(bot: Bot, i: Command | APIModalSubmitInteraction, person: Person, text: string): Promise<unknown> {
  const { front, rest } = bot;
  const words = wordsFor(person.role);
  const tapped = tappedOf(bot, i);
  const where = whereOf(i);
  if (!where) return fillIn(rest, tapped, front.say(words, 'discord.no-place'));
  const room = await openCase(bot, where, { id: i.id, person, said: { kind: 'text', text: text.slice(0, 4000) } });
  const key = room.place === null ? 'discord.opening' : 'discord.opened';
  return fillIn(rest, tapped, front.say(words, key, { place: `<#${room.place ?? ''}>` }));
}

/** A text channel of a server takes a private thread; inside a thread it goes under that thread's channel. */
function whereOf({
  channel,
  guild_id: guild,
}: Pick<Command | APIModalSubmitInteraction, 'channel' | 'guild_id'>): Where | null {
  if (!channel) return null;
  if (!guild) return { direct: channel.id };
  if (channel.type === ChannelType.GuildText) return { guild, parent: channel.id };
  const isThread = channel.type === ChannelType.PublicThread || channel.type === ChannelType.PrivateThread;
  const parent = isThread && 'parent_id' in channel ? channel.parent_id : null;
  return parent ? { guild, parent } : null;
}

async function resume(bot: Bot, i: Command, person: Person, given: string | null): Promise<unknown> {
  const { front, rest } = bot;
  const words = wordsFor(person.role);
  const tapped = tappedOf(bot, i);
  const own = front.rooms.of(person.id).filter((r) => r.place !== null);
  const code = given?.toUpperCase() ?? own.find((r) => r.status !== 'closed')?.caseId ?? null;
  if (code === null) return fillIn(rest, tapped, front.say(words, 'discord.no-case.own'));
  const tell = (key: string, place: string | null): Promise<boolean> =>
    fillIn(rest, tapped, front.say(words, key, { code, place: `<#${place ?? ''}>` }));
  const known = own.find((r) => r.caseId === code);
  // where a newer case is talked in, as in a direct channel, this one is opened anew
  const stillThere = known && front.rooms.at(known.place ?? '')?.conversation === known.conversation;
  if (stillThere && (await isThere(bot, known.place ?? ''))) {
    await sayInRoom(bot, known.conversation, { id: i.id, person, said: { kind: 'poll' } });
    return tell('discord.taken-up', known.place);
  }
  const where = whereOf(i);
  if (!where) return tell('discord.no-place', null);
  openRoom(bot, where, { id: i.id, person });
  if (!front.takeUp(code, i.id)) return tell('discord.no-case', null);
  await sayInRoom(bot, i.id, { id: i.id, person, said: { kind: 'poll' } });
  await bot.delivery.settled(i.id);
  return tell('discord.taken-up', front.rooms.get(i.id)?.place ?? null);
}

async function isThere({ rest }: Bot, place: string): Promise<boolean> {
  try {
    await rest.get(`/channels/${place}`);
    return true;
  } catch (error) {
    if (isCode(error, CODES.unknownChannel) || isCode(error, CODES.missingAccess)) return false;
    throw error;
  }
}

function optionsOf({ data }: Command): Record<string, string> {
  const given = (data.options ?? []).flatMap((o) => ('value' in o ? [[o.name, String(o.value)] as const] : []));
  return Object.fromEntries(given);
}
