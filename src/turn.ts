/**
 * The whole decision for one message. Pure: the same case, message and moment give the same turn. It reads like the
 * table of contents of the product; each stop on the way stands in its own folder.
 */
import type { CaseEvent, News } from './case/events.js';
import { fold, type CaseState } from './case/state.js';
import { relayed } from './desk/relay.js';
import { wordsFor, type Knowledge } from './knowledge/facts.js';
import type { Incoming } from './message/incoming.js';
import type { Answer } from './message/outgoing.js';
import type { NamedPicture } from './pictures/picture.js';
import { noteOf } from './reply/note.js';
import { answerOf, type Setting } from './turn/answer.js';
import { decide } from './turn/decide.js';
import { hear, type Heard } from './turn/hear.js';
import { pictureAsked } from './turn/picture.js';
import { believed, record } from './turn/record.js';
import { think } from './turn/think.js';
import { toldBy } from './turn/told.js';

export interface Moment extends Omit<Setting, 'conversation' | 'picture'> {
  readonly newId: () => string;
  /** what the case would ask by itself now; left unasked where the message tells it */
  readonly followUp?: Pick<Extract<CaseEvent, { type: 'followed-up' }>, 'about' | 'place'> | null;
  /** the desk's question reaches the person only with this answer */
  readonly deskAsks?: boolean;
  /** where a picture goes that is asked for; left out where none can be shown */
  readonly picturePath?: (name: NamedPicture['name']) => string;
}

export interface Turned {
  readonly events: readonly CaseEvent[];
  readonly state: CaseState;
  readonly answer: Answer;
  /** to be there before the answer is shown, which tells where it is */
  readonly picture?: NamedPicture | null;
}

export function turn(knowledge: Knowledge, before: CaseState, incoming: Incoming, moment: Moment): Turned {
  const { role, id } = incoming.from;
  const at = incoming.at ?? moment.now;

  // 1. danger in the raw words, then what is understood: findings, readings, requests
  const raw = hear(knowledge, before, incoming, at);
  const relay = relayed(before, incoming, at, moment.deskAsks ?? false);
  const heard = relay.length > 0 ? { ...raw, unclear: false, offTopic: false } : raw;
  const own = followUpAsked(moment.followUp ?? null, heard, at);
  const told = fold(before, [...heard.events, ...relay, ...own]);

  // 2. readings judged, causes believed
  const mind = think(knowledge, told, wordsFor(role));

  // 3. the next step or the end of asking, as far as safety permits; a picture, where one is asked for and can be shown
  const path = moment.picturePath;
  const picture = path ? pictureAsked(knowledge, told, wordsFor(role), heard, mind) : null;
  const next = decide(knowledge, told, role, mind, heard, picture);

  // 4. written down, and said
  const decided = record(knowledge, told, role, next, { at, by: id, newId: moment.newId });
  const state = fold(told, decided);
  const notes = own.map((event) => noteOf(knowledge, wordsFor(role), event));
  const answer = answerOf(
    knowledge,
    before,
    state,
    role,
    {
      ...moment,
      notes: [...moment.notes, ...notes],
      conversation: incoming.conversation,
      ...(path ? { picture: picture && { name: picture.name, path: path(picture.name) } } : {}),
    },
    heard,
    mind,
    next,
  );
  // a poll changes nothing but what the case asks by itself
  if (incoming.said.kind === 'poll') return { events: own, state: told, answer, picture };
  const once = [...believed(decided, mind.ranked, at), ...toldBy(next, state, at)];
  return {
    events: [...heard.events, ...relay, ...own, ...decided, ...once],
    state: fold(state, once),
    answer,
    picture,
  };
}

/** What the case asks by itself, unless this very message tells how it went or something more pressing. */
function followUpAsked(followUp: NonNullable<Moment['followUp']> | null, heard: Heard, at: string): News[] {
  const pressing = heard.result !== null || heard.dangers.length > 0 || heard.acts.has('stop-asking');
  return followUp && !pressing ? [{ type: 'followed-up', at, ...followUp }] : [];
}
