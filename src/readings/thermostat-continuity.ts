// The defrost thermostat's contact, which means nothing without its temperature: closed when cold, open when warm. A
// part without a readable mark is judged only where every plausible mark agrees; near 0 F (-18 degC) they all do.

import type { Measured } from '../case/state.js';
import { agreedContact, readMark, type BimetalRating } from '../physics/bimetal.js';
import { justThawed } from './conditions.js';
import { below, thresholdBelow } from './density.js';
import { numberOf } from './numbers.js';
import { CONTRADICTING, tellsNothing, type Expectation, type Judge, type Opinion, type Setting } from './opinion.js';

interface Marked {
  readonly against: Expectation['against'];
  /** all that the mark may stand for; none where it is not known */
  readonly ratings: readonly BimetalRating[];
}

/** The ratings that a statement of a thermostat may mean: one, or every plausible reading of bare numbers. */
function ratingsOf(rating: Measured['rating']): readonly BimetalRating[] | null {
  if (rating && 'opensC' in rating) return [{ opensC: rating.opensC, differentialK: rating.differentialC }];
  return rating && 'mark' in rating ? readMark(...rating.mark, rating.unit ?? undefined) : null;
}

function markOf({ knowledge, state, given, others }: Setting): Marked {
  const own = ratingsOf(given.rating);
  if (own) return { against: 'rating', ratings: own };
  const same = others.toReversed().filter((m) => m.part === given.part);
  const earlier = same.flatMap((m) => [ratingsOf(m.rating)].filter((r) => r !== null))[0];
  if (earlier) return { against: 'case', ratings: earlier };
  const family = state.family === null ? undefined : knowledge.units.get(state.family)?.thermostat;
  if (!family) return { against: 'common-practice', ratings: [] };
  return { against: 'case', ratings: [{ opensC: family.opensC.value, differentialK: family.differentialC.value }] };
}

/** How far the tested temperature may be from the true one, K (k = 2). */
const thermometerK = ({ reading, given }: Setting): number =>
  numberOf(reading, given.atAssumed ? 'assumed-spread' : 'thermometer', 'K');

type Contact = ReturnType<typeof agreedContact>;

/** What the contact has to be; `sure` times the thermometer's limit has to lie between it and the switching point. */
function contactAt(setting: Setting, { ratings }: Marked, atC: number, sure: 1 | 2): Contact {
  const { reading } = setting;
  const limitK = thermometerK(setting);
  if (ratings.length > 0) {
    const tolerance = numberOf(reading, 'mark-tolerance', 'K');
    return agreedContact(ratings, atC, { opensK: tolerance, closesK: tolerance, testedAtK: sure * limitK });
  }
  // The two limits of common practice allow for an ordinary thermometer; only what is worse than one counts on top.
  const worse = sure * (limitK - numberOf(reading, 'thermometer', 'K'));
  if (atC + worse <= numberOf(reading, 'unmarked-closed-below', 'degC')) return 'must-be-closed';
  return atC - worse >= numberOf(reading, 'unmarked-open-above', 'degC') ? 'must-be-open' : 'either';
}

const STATE = {
  'must-be-closed': 'closed',
  'must-be-open': 'open',
  either: 'either',
  'depends-on-mark': 'either',
} as const;

/** Physics knows no snap disc outside this range. */
const clamped = (atC: number): number => Math.min(Math.max(atC, -100), 400);

interface Possible {
  readonly open: number;
  readonly closed: number;
}

/**
 * The chance that a sound part may be open, and that it may be closed, at this temperature. Between its two switching
 * points it keeps the state it had, so there both are possible and nothing is held against it.
 */
function possible(setting: Setting, { ratings }: Marked, atC: number): Possible {
  const { reading } = setting;
  const limitK = thermometerK(setting);
  if (ratings.length > 0) {
    const sigma = Math.hypot(numberOf(reading, 'mark-tolerance', 'K'), limitK) / 2;
    // Each reading of the mark is as likely.
    const mean = (chance: (rating: BimetalRating) => number): number =>
      ratings.reduce((sum, rating) => sum + chance(rating), 0) / ratings.length;
    return {
      open: mean(({ opensC, differentialK }) => below((atC - clamped(opensC) + differentialK) / sigma)),
      closed: mean(({ opensC }) => below((clamped(opensC) - atC) / sigma)),
    };
  }
  const at = (key: string): number => numberOf(reading, key, 'degC');
  const limits = numberOf(reading, 'limit-share', 'ratio');
  const hasOpened =
    (1 - limits) * thresholdBelow(atC, at('opens-low'), at('opens-high'), limitK / 2) +
    limits * thresholdBelow(atC, at('opens-high'), at('limit-opens-high'), limitK / 2);
  return { open: thresholdBelow(atC, at('closes-low'), at('closes-high'), limitK / 2), closed: 1 - hasOpened };
}

/** Nearly any sound part may be open here: an open contact then tells nothing at all. */
const MEANS_NOTHING = 0.95;

function weights(setting: Setting, mark: Marked, atC: number, isOpen: boolean): Opinion['weights'] {
  const wrong = numberOf(setting.reading, 'meter-wrong', 'ratio');
  const may = possible(setting, mark, atC);
  if (isOpen && may.open >= MEANS_NOTHING) return null;
  const sound = wrong + (1 - 2 * wrong) * (isOpen ? may.open : may.closed);
  return { sound, 'stuck-open': isOpen ? 1 - wrong : wrong, 'stuck-closed': isOpen ? wrong : 1 - wrong };
}

function expectationOf(setting: Setting, mark: Marked): Expectation {
  const { reading, given } = setting;
  const atC = given.atC ?? numberOf(reading, 'test-at', 'degC');
  const contact = contactAt(setting, mark, clamped(atC), 1);
  const outcome = contact === 'depends-on-mark' ? 'inconclusive-mark' : `expect-${STATE[contact]}`;
  return { expected: { state: STATE[contact] }, against: mark.against, outcome };
}

export const thermostatContinuity: Judge = {
  id: 'thermostat-continuity',
  states: ['sound', 'stuck-open', 'stuck-closed'],
  numbers: {
    'test-at': 'degC',
    'opens-low': 'degC',
    'opens-high': 'degC',
    'limit-opens-high': 'degC',
    'limit-share': 'ratio',
    'closes-low': 'degC',
    'closes-high': 'degC',
    'mark-tolerance': 'K',
    'unmarked-closed-below': 'degC',
    'unmarked-open-above': 'degC',
    thermometer: 'K',
    'assumed-spread': 'K',
    'meter-wrong': 'ratio',
  },
  outcomes: [
    'expect-closed',
    'expect-open',
    'expect-either',
    'good',
    'bad-open',
    'bad-closed',
    'inconclusive-warm',
    'inconclusive-open',
    'inconclusive-between',
    'inconclusive-no-temperature',
    'inconclusive-mark',
    ...CONTRADICTING,
  ],
  expects: (setting) => expectationOf(setting, markOf(setting)),
  judges(setting, value) {
    const { given, state } = setting;
    const mark = markOf(setting);
    const { against } = mark;
    // "In the freezer" is no temperature any more once the freezer was thawed.
    if (given.atC === null || (given.atAssumed && justThawed(state)))
      return tellsNothing({ expected: null, against, outcome: '' }, 'inconclusive-no-temperature', 'temperature');
    const atC = clamped(given.atC);
    const { expected } = expectationOf(setting, mark);
    const isOpen = value !== 'closed';
    const base = { expected, against, weights: weights(setting, mark, atC, isOpen) };
    const surely = contactAt(setting, mark, atC, 2);
    return isOpen ? opened(setting, mark, atC, surely, base) : closed(setting, mark, atC, surely, base);
  },
};

type Base = Pick<Opinion, 'expected' | 'against' | 'weights'>;

/** Open is bad where it must be closed; anywhere else only a cold test tells. */
function opened(setting: Setting, mark: Marked, atC: number, surely: Contact, base: Base): Opinion {
  if (surely === 'must-be-closed') return { ...base, verdict: 'bad', outcome: 'bad-open', asks: null };
  const again = { ...base, verdict: 'inconclusive', asks: 'repeat' } as const;
  if (surely === 'must-be-open') return { ...again, outcome: 'inconclusive-open' };
  if (contactAt(setting, mark, atC, 1) === 'depends-on-mark')
    return { ...again, outcome: 'inconclusive-mark', asks: 'mark' };
  const closes = mark.ratings.map(({ opensC, differentialK }) => opensC - differentialK);
  const closesC = closes.length > 0 ? Math.max(...closes) : numberOf(setting.reading, 'closes-high', 'degC');
  return { ...again, outcome: atC > closesC ? 'inconclusive-warm' : 'inconclusive-between' };
}

/** Closed is right in the cold and bad where it must be open. */
function closed(setting: Setting, mark: Marked, atC: number, surely: Contact, base: Base): Opinion {
  if (surely === 'must-be-open') return { ...base, verdict: 'bad', outcome: 'bad-closed', asks: null };
  const contact = contactAt(setting, mark, atC, 1);
  if (contact === 'must-be-closed') return { ...base, verdict: 'good', outcome: 'good', asks: null };
  const unmarked = mark.ratings.length === 0 && atC > numberOf(setting.reading, 'opens-low', 'degC');
  const decides = unmarked || contact === 'depends-on-mark';
  const outcome = decides ? 'inconclusive-mark' : 'inconclusive-between';
  return { ...base, verdict: 'inconclusive', outcome, asks: decides ? 'mark' : 'repeat' };
}
