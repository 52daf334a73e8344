/** What the Discord bot posts for an answer: in the room of the case, and in the technicians' channel. */
import { randomBytes } from 'node:crypto';
import { answerPosts } from '../channels/discord/answer-posts.js';
import { plain, readAsked, type PostFile } from '../channels/discord/body.js';
import { deskPost, deskPostId, remindPostId } from '../channels/discord/desk-post.js';
import { escapeText } from '../channels/discord/escape.js';
import { DESK_ROOM } from '../channels/discord/front.js';
import type { CaseState } from '../case/state.js';
import type { Made } from '../conversation.js';
import type { Renew } from '../conversation/desk-work.js';
import { pagesIn, pagesOf } from '../conversation/pages.js';
import { wordsFor, type Knowledge } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import type { Escalation } from '../message/outgoing.js';
import type { Outgoing } from '../message/post.js';
import type { Picture } from '../pictures/picture.js';
import { judgeAll } from '../readings/judge.js';
import { frostPicture, sensorPicture } from '../reply/pictures.js';
import { say } from '../reply/say.js';
import type { Store } from '../store/store.js';
import { age, sayer } from './desk-words.js';

const DESK = 'technician';
const newId = (): string => randomBytes(15).toString('base64url');

/** @param hasDesk a technicians' channel is set; else the page goes to the caller */
export function postsOf(knowledge: Knowledge, store: Store, hasDesk: boolean, made: Made): Outgoing[] {
  const { incoming, answer, events, state, caseId } = made;
  const room = store.rooms.get(incoming.conversation);
  if (!room) return [];
  const front = { knowledge, say: say.bind(null, knowledge) };
  const asking = store.posts.asking(room.conversation);
  const posts = answerPosts(front, {
    answer,
    room,
    role: incoming.from.role,
    files: [...picturesOf(knowledge, made), ...(hasDesk ? [] : pageFor(knowledge, made))],
    newId,
    chosen: chosenBy(made),
    before: asking && { id: asking.id, asked: readAsked(asking.ask) },
  });
  const { escalation } = answer;
  if (!hasDesk || !escalation) return posts;
  const id = deskPostId(escalation.id);
  if (escalation.state !== 'closed' || store.posts.find(id) !== null) {
    const photos = photosIn(store, caseId, made);
    const body = JSON.stringify(deskPost(front, escalation, pagesIn(pagesOf(knowledge, state, escalation)), photos));
    posts.push({ id, kind: 'escalation', body, room: DESK_ROOM });
  }
  const note = (noteId: string, text: string): void =>
    void posts.push({ id: noteId, kind: 'note', body: JSON.stringify(plain(escapeText(text))), room: DESK_ROOM });
  for (const event of events) {
    if (event.type === 'overdue') {
      const words = sayer(knowledge);
      const since = state.escalation?.since ?? event.at;
      const slots = { code: caseId, age: age(words, since, new Date(event.at)) };
      note(remindPostId(escalation.id, since), words(`desk.reminder.${event.urgency}`, slots));
    }
    if (event.type === 'desk-answered') {
      const slots = { code: caseId, who: escalation.claimedBy ?? '', text: event.text ?? '' };
      note(`a${incoming.id ?? newId()}`.slice(0, 25), say(knowledge, DESK, 'discord.desk.answer', slots));
    }
  }
  return posts;
}

/** The technicians' message of an escalation, made anew after an act of the desk. */
export const deskPostRenewed =
  (knowledge: Knowledge, store: Store): Renew =>
  (caseId: string, state: CaseState, escalation: Escalation) => {
    const front = { knowledge, say: say.bind(null, knowledge) };
    const pages = pagesIn(pagesOf(knowledge, state, escalation));
    return { [deskPostId(escalation.id)]: JSON.stringify(deskPost(front, escalation, pages, photosIn(store, caseId))) };
  };

function photosIn(store: Store, caseId: string, made?: Made): string[] {
  const events = [...store.events(caseId), ...(made?.events ?? [])];
  return events.flatMap((e) => (e.type === 'photo-kept' && e.ref !== null ? [e.ref] : []));
}

/** The drawing with its question or when it is asked for, the chart with each reading of a sensor that has a curve. */
function picturesOf(knowledge: Knowledge, { answer, state, picture, incoming }: Made): PostFile[] {
  const words = wordsFor(incoming.from.role);
  const file = (name: string, { svg, alt }: Picture): PostFile => ({ name: `${name}.png`, alt, svg });
  if (picture) return [file(picture.name, picture)];
  if (answer.ask?.finding === F.frostPlace && answer.ask.kind === 'choice')
    return [file('frost', frostPicture(knowledge, state, words))];
  const sensor = answer.readings.some(
    (r) => knowledge.readings.get(`${r.part}.${r.quantity}`)?.judge === 'sensor-resistance',
  );
  if (!sensor) return [];
  const units = state.units ?? 'us';
  const chart = sensorPicture({ knowledge, words, units }, state, judgeAll(knowledge, state, words));
  return chart ? [file('sensor', chart)] : [];
}

export const pageName = (caseId: string): string => `case-${caseId}.html`;

/** Without a desk the caller gets the page when the case is handed over. */
function pageFor(knowledge: Knowledge, { answer, state, events, caseId }: Made): PostFile[] {
  const { escalation } = answer;
  if (!escalation || !events.some((e) => e.type === 'escalated')) return [];
  const { html, markdown } = pagesIn(pagesOf(knowledge, state, escalation));
  return [
    {
      name: pageName(caseId),
      alt: say(knowledge, DESK, 'discord.desk.page', { code: caseId }),
      text: html ?? markdown,
    },
  ];
}

function chosenBy({ incoming: { said } }: Made): string[] | null {
  if (said.kind === 'answer') return [said.value].flat();
  return said.kind === 'text' ? [said.text] : null;
}
