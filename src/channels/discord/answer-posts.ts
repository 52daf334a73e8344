/** An answer as posts of its room: the thread first where there is none yet, the words in pieces, the question last. */
import type { Role } from '../../knowledge/facts.js';
import { wordsFor } from '../../knowledge/facts.js';
import type { Answer } from '../../message/outgoing.js';
import type { Outgoing } from '../../message/post.js';
import type { Room } from '../../message/room.js';
import type { Asked, MessageBody, PostFile } from './body.js';
import { escapeText } from './escape.js';
import type { Front } from './front.js';
import { rowsFor, short } from './question.js';
import { split } from './split.js';

export interface Answered {
  readonly answer: Answer;
  readonly room: Room;
  readonly role: Role;
  readonly files: readonly PostFile[];
  /** a new name for a post, at most 25 characters */
  readonly newId: () => string;
  /** what was answered with this message, where it was a tap: it is said below the question */
  readonly chosen: readonly string[] | null;
  /** the post whose question is answered now, and what it asked */
  readonly before: { readonly id: string; readonly asked: Asked } | null;
}

export const KINDS = { thread: 'thread', answer: 'answer', settle: 'settle', desk: 'escalation' } as const;

export function answerPosts(front: Pick<Front, 'say' | 'knowledge'>, made: Answered): Outgoing[] {
  const { answer, room, role, files, newId, before } = made;
  const words = wordsFor(role);
  const out: Outgoing[] = [];
  const put = (id: string, kind: string, body: object, ask?: Asked): void =>
    void out.push({
      id,
      kind,
      body: JSON.stringify(body),
      room: room.conversation,
      ...(ask === undefined ? {} : { ask: JSON.stringify(ask) }),
    });
  if (room.place === null) put(`t${room.conversation}`, KINDS.thread, { name: threadName(front, answer, role) });
  if (before?.asked) {
    const labels = before.asked.choices.filter((c) => made.chosen?.includes(c.value)).map((c) => c.label);
    put(newId(), KINDS.settle, { post: before.id, chosen: labels.length > 0 ? labels.join(', ') : null });
  }
  const pieces = split(shown(front, answer, role));
  pieces.forEach((content, i) => {
    const last = i === pieces.length - 1;
    const id = newId();
    const asked = last ? askedOf(front, answer) : null;
    const rows = last ? rowsFor(front, words, asked, id, room.conversation, answer.status === 'escalated') : [];
    const body: MessageBody = { content, rows, files: last ? [...files] : [], photos: [] };
    put(id, KINDS.answer, body, last ? asked : undefined);
  });
  return out;
}

/** The reply with its dangers set apart by a heading and a sign, which nobody has to tell by colour. */
function shown({ say, knowledge }: Pick<Front, 'say' | 'knowledge'>, { reply }: Answer, role: Role): string {
  const words = wordsFor(role);
  const names = [...knowledge.hazards.values()].map((h) => h.name[words]);
  const stops = new Set(names.map((name) => say(words, 'hazard.lead', { name })));
  const cautions = new Set(names.map((name) => say(words, 'hazard.caution', { name })));
  return reply
    .split('\n')
    .map((line) => {
      const text = escapeText(line);
      if (stops.has(line)) return `# ⛔ ${text}`;
      return cautions.has(line) ? `**⚠️ ${text}**` : text;
    })
    .join('\n');
}

function askedOf({ knowledge }: Pick<Front, 'knowledge'>, { ask }: Answer): Asked {
  if (!ask) return null;
  const { finding, reading, text, choices } = ask;
  const many = ask.kind === 'choice' && finding !== null && (knowledge.findings.get(finding)?.many ?? false);
  return { finding, reading, text, choices, many };
}

const LONGEST_NAME = 100;

/** The case's code and what it is about: the danger, else the first thing understood. */
function threadName({ say, knowledge }: Pick<Front, 'say' | 'knowledge'>, answer: Answer, role: Role): string {
  const words = wordsFor(role);
  const [danger] = answer.hazards;
  const told = answer.understood.find((u) => !u.denied && u.value !== 'not-sure');
  const topic = danger
    ? knowledge.hazards.get(danger.hazard)?.name[words]
    : told && knowledge.findings.get(told.finding)?.choices[told.value]?.[words];
  const name = say(words, 'discord.thread', {
    code: answer.caseId,
    topic: topic ?? say(words, 'discord.topic.plain'),
  });
  return short(name, LONGEST_NAME);
}
