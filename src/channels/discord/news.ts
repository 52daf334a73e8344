/** What happened in a case while nobody spoke, told in its room at once; and what has fallen due, found in the store. */
import type { Role } from '../../knowledge/facts.js';
import type { RoomOfCase } from '../../message/room.js';
import type { Bot } from './bot-parts.js';

/** A poll in the person's name: it changes nothing but what fell due, and posts only where there is something to tell. */
export async function tellNews(bot: Bot, room: RoomOfCase): Promise<void> {
  const { front, delivery, work } = bot;
  const from = { id: room.person, role: room.role as Role };
  await work.turn(() =>
    front.handle({ conversation: room.conversation, from, id: null, at: null, said: { kind: 'poll' } }),
  );
  delivery.kick(room.conversation);
}

/** Cases that are due now, and those that changed since, by another process perhaps. */
export async function lookForNews(bot: Bot, since: string, mine: (guild: string | null) => boolean): Promise<void> {
  const { front } = bot;
  const due = front.due(front.now().toISOString()).flatMap((caseId) => front.rooms.ofCase(caseId) ?? []);
  const rooms = new Map([...front.rooms.withNews(since), ...due].map((room) => [room.caseId, room]));
  for (const room of rooms.values()) if (mine(room.guild)) await tellNews(bot, room);
}
