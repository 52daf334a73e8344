/** Whether a message that said nothing of use is of another trade, of another language, or only unclear. */
import type { ReadText } from '../message/phrases.js';
import { EMPTY } from '../message/text.js';
import { QUESTIONS, type Act, type Talk } from './talk.js';

/** Words that open a request or a question. */
const ASKS = new Set(
  (
    'what who whom whose which when where why how is are am was were do does did can could will would should shall may ' +
    'tell show play set find give get look search book order call text remind turn add make help please i need want lets let ' +
    'read list define translate convert calculate open close start cancel check put send write change track schedule use name'
  ).split(' '),
);

const TRADE_AND_MORE: readonly Act[] = ['domain', 'near-domain', 'hedge', 'yes', 'no', 'another-language'];

/**
 * The message speaks of something else: no word of this trade, or hardly any among many others.
 * @param pending a question stands: a short reply is an answer that was not understood
 */
export function isOffTopic(text: ReadText, talk: Talk, pending: boolean): boolean {
  if (talk.acts.has('other-appliance')) return true;
  if (talk.acts.has('domain')) return false;
  const near = talk.at('near-domain').length;
  const others = otherWords(text, talk, []);
  const asks = ASKS.has(text.tokens[0]?.word ?? '');
  if (pending) return asks && others >= 3 && near === 0;
  return asks ? others >= 2 && others >= 2 * near - 1 : near === 0 && others >= 4;
}
/** So much is said of something else that what seems to steer the talk only seems so. */
export const isBeside = (text: ReadText, talk: Talk): boolean =>
  !talk.acts.has('domain') &&
  talk.at('near-domain').length <= 1 &&
  otherWords(
    text,
    talk,
    [...talk.acts].flatMap((act) => talk.at(act)),
  ) >= 3;

/** A question that the folder answers is asked about our trade, or names hardly anything else. */
export function isOfTrade(text: ReadText, talk: Talk, asked: readonly Place[]): boolean {
  return talk.acts.has('domain') || otherWords(text, talk, asked) <= talk.at('near-domain').length + 2;
}

interface Place {
  readonly from: number;
  readonly to: number;
}

/** Telling words that are neither of our trade nor of the talk itself. */
function otherWords(text: ReadText, talk: Talk, known: readonly Place[]): number {
  const places = [...known, ...[...QUESTIONS, ...TRADE_AND_MORE].flatMap((act) => talk.at(act))];
  return text.tokens.filter(
    (t, i) =>
      !EMPTY.has(t.word) &&
      !POINTING.has(t.word) &&
      !/^\d/.test(t.word) &&
      !places.some((p) => p.from <= i && i <= p.to),
  ).length;
}
/** words that point at something said before, or are only polite */
const POINTING = new Set(
  'that this it one them those these thing stuff bit next now then just really still also again not no all any some more sorry look listen please'.split(
    ' ',
  ),
);

const ONLY_SEEMING: readonly Act[] = [
  'person',
  'not-sure',
  'picture',
  'back',
  'start-over',
  'correction',
  'hello',
  'same',
  'both',
];
/** Acts that a message about something else only seems to do. */
export const withoutQuestions = (acts: ReadonlySet<Act>): ReadonlySet<Act> =>
  new Set([...acts].filter((a) => !QUESTIONS.includes(a) && !ONLY_SEEMING.includes(a)));

/** More words of another language than of ours, or another alphabet. */
export function isAnotherLanguage(text: ReadText, talk: Talk): boolean {
  const letters = text.text.match(/\p{L}/gu)?.length ?? 0;
  const latin = text.text.match(/\p{Script=Latin}/gu)?.length ?? 0;
  if (letters >= 3 && latin * 2 < letters) return true;
  const foreign = talk.at('another-language').length;
  const ours = text.tokens.filter((t) => OURS.has(t.word)).length;
  return foreign >= 2 && foreign > ours && !talk.acts.has('domain');
}
const OURS = new Set(
  'the a is it in of to and on my i not with there that this was have has for at you we they from are be been do does did'.split(
    ' ',
  ),
);
