/** Something a person said in a room becomes a message of its case, and a case is opened with what they said first. */
import { wordsFor } from '../../knowledge/facts.js';
import type { Said } from '../../message/incoming.js';
import type { Room } from '../../message/room.js';
import type { Bot } from './bot-parts.js';
import { plain } from './body.js';
import type { Person } from './people.js';

export interface Speech {
  /** Discord's id of the message or tap */
  readonly id: string;
  readonly person: Person;
  readonly said: Said;
  readonly photos?: readonly string[];
}

export type Result = { readonly ok: true } | { readonly ok: false; readonly message: string };

/** One turn of the case; what it answers waits in the outbox and is sent at once. Same id, no second turn. */
export async function sayInRoom(bot: Bot, conversation: string, speech: Speech): Promise<Result> {
  const { front, delivery, work } = bot;
  const { id, person, said, photos = [] } = speech;
  const handled = await work.turn(() =>
    front.handle({ conversation, from: person.from, id, at: null, said, ...(photos.length > 0 ? { photos } : {}) }),
  );
  delivery.kick(conversation);
  if (handled.ok && handled.answer.escalation) delivery.kick();
  return handled.ok ? { ok: true } : { ok: false, message: handled.error.message };
}

/** A line of the bot's own in a room, once for each message or tap that called for it. */
export function tellRoom({ front, delivery }: Bot, room: Room, cause: string, key: string, person: Person): void {
  const caseId = front.caseOf(room.conversation);
  if (caseId === null) return;
  const content = front.say(wordsFor(person.role), key);
  front.posts.add(caseId, 'discord', front.now().toISOString(), {
    id: `n${cause}`,
    kind: 'note',
    body: JSON.stringify(plain(content)),
    room: room.conversation,
  });
  delivery.kick(room.conversation);
}

/** Where a case may be opened: in the direct channel itself, or in a private thread under a channel of the server. */
export type Where = { readonly direct: string } | { readonly guild: string; readonly parent: string };

/** Keeps a new room for this person, named for the message or command that asked for it. */
export function openRoom({ front }: Bot, where: Where, { id, person }: Pick<Speech, 'id' | 'person'>): Room {
  const direct = 'direct' in where;
  const room: Room = {
    conversation: id,
    place: direct ? where.direct : null,
    guild: direct ? null : where.guild,
    parent: direct ? null : where.parent,
    owner: person.id,
    person: person.from.id,
    role: person.role,
    seen: direct ? id : null,
  };
  front.rooms.open(room, front.now().toISOString());
  return room;
}

/** The room is kept first, then what was said: the same message or command again finds both. */
export async function openCase(bot: Bot, where: Where, speech: Speech): Promise<Room> {
  const { front } = bot;
  const room = openRoom(bot, where, speech);
  await sayInRoom(bot, room.conversation, speech);
  await bot.delivery.settled(room.conversation);
  return front.rooms.get(room.conversation) ?? room;
}
