/**
 * The whole decision for one message. Pure: the same case, message and moment give the same turn. It reads like the
 * table of contents of the product; each stop on the way stands in its own folder.
 */
import type { CaseEvent } from './case/events.js';
import { fold, type CaseState } from './case/state.js';
import { wordsFor, type Knowledge } from './knowledge/facts.js';
import type { Incoming } from './message/incoming.js';
import type { Answer } from './message/outgoing.js';
import type { NamedPicture } from './pictures/picture.js';
import { answerOf, type Setting } from './turn/answer.js';
import { decide } from './turn/decide.js';
import { hear } from './turn/hear.js';
import { pictureAsked } from './turn/picture.js';
import { record } from './turn/record.js';
import { think } from './turn/think.js';
import { toldBy } from './turn/told.js';

export interface Moment extends Omit<Setting, 'conversation' | 'picture'> {
  readonly newId: () => string;
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
  const heard = hear(knowledge, before, incoming, at);
  const told = fold(before, heard.events);

  // 2. readings judged, causes believed
  const mind = think(knowledge, told, wordsFor(role));

  // 3. the next step or the end of asking, as far as safety permits; a picture, where one is asked for and can be shown
  const path = moment.picturePath;
  const picture = path ? pictureAsked(knowledge, told, wordsFor(role), heard, mind) : null;
  const next = decide(knowledge, told, role, mind, heard, picture);

  // 4. written down, and said
  const decided = record(knowledge, told, role, next, { at, by: id, newId: moment.newId });
  const state = fold(told, decided);
  const answer = answerOf(
    knowledge,
    before,
    state,
    role,
    {
      ...moment,
      conversation: incoming.conversation,
      ...(path ? { picture: picture && { name: picture.name, path: path(picture.name) } } : {}),
    },
    heard,
    mind,
    next,
  );
  const once = toldBy(next, state, at);
  return { events: [...heard.events, ...decided, ...once], state: fold(state, once), answer, picture };
}
