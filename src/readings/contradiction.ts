// Two readings of a case that cannot both be true. Which to repeat is the cheaper one; neither moves the belief before.

import type { Measured } from '../case/state.js';
import type { Knowledge, Reading } from '../knowledge/facts.js';
import { OUTPUT } from './circuit.js';
import { HEATER_OHMS } from './heater-rating.js';
import { SUPPLY } from './mains.js';
import { numberOf } from './numbers.js';
import type { Opinion } from './opinion.js';

/** One reading with what its judge made of it alone. */
export interface Alone {
  readonly measured: Measured;
  readonly reading: Reading;
  readonly opinion: Opinion;
}

const BEEP = 'defrost-heater.continuity';
const AMPS = 'defrost-heater.current';
const BIMETAL = 'defrost-thermostat.continuity';
const SENSOR = 'defrost-sensor.resistance';
const AT_HEATER = 'heater-circuit.voltage';

type Rule = (one: Alone, other: Alone) => boolean;

const is = ({ reading }: Alone, ...ids: string[]): boolean => ids.includes(reading.id);
const isOpen = ({ opinion }: Alone): boolean => opinion.outcome === 'bad-open';
const isBad = ({ opinion }: Alone): boolean => opinion.verdict === 'bad';
/** Not open, and not a silent beeper whose silence the ohms explain. */
const carries = (alone: Alone): boolean => !isOpen(alone) && alone.opinion.outcome !== 'inconclusive-beeper';

/** More than a dead wire picks up, or than the noise of a clamp. */
const isLive = ({ measured, reading }: Alone): boolean =>
  typeof measured.value === 'number' &&
  (measured.quantity === 'current'
    ? measured.value >= numberOf(reading, 'none-below', 'A')
    : measured.value > numberOf(reading, 'absent-below', 'V'));

/** Open no warmer than closed, as far as two thermometers can tell. */
function openColder(one: Alone, other: Alone): boolean {
  const [open, closed] = [one.measured, other.measured];
  if (open.value === 'closed' || closed.value !== 'closed' || open.atC === null || closed.atC === null) return false;
  return open.atC <= closed.atC + 2 * numberOf(one.reading, 'thermometer', 'K');
}

const RULES: readonly Rule[] = [
  // open by one test of the heater, not open by the other
  (one, other) => is(one, BEEP, HEATER_OHMS) && is(other, BEEP, HEATER_OHMS) && isOpen(one) && carries(other),
  // open, and yet current flows through it
  (one, other) => is(one, BEEP, HEATER_OHMS) && is(other, AMPS) && isOpen(one) && isLive(other),
  // a thermostat open in the cold that is closed when no colder: a sound one never is, and a failed one stays as it is
  (one, other) => is(one, BIMETAL) && is(other, BIMETAL) && openColder(one, other) && (isBad(one) || isBad(other)),
  // a sensor open or shorted that is on its curve at another temperature
  (one, other) =>
    is(one, SENSOR) &&
    is(other, SENSOR) &&
    ['bad-open', 'bad-short'].includes(one.opinion.outcome) &&
    other.opinion.verdict === 'good',
  // volts at the heater while none leave the control
  (one, other) =>
    is(one, AT_HEATER) && is(other, OUTPUT) && one.opinion.outcome === 'inconclusive-output-absent' && isLive(one),
  // nothing at the outlet, and yet something runs on it
  (one, other) =>
    is(one, SUPPLY) && one.opinion.outcome === 'bad-absent' && is(other, OUTPUT, AT_HEATER, AMPS) && isLive(other),
];

/** Whether the two cannot both be true. */
export const contradicts: Rule = (one, other) => RULES.some((rule) => rule(one, other) || rule(other, one));

/** Minutes to take a reading again, with what must be opened first. */
export const effort = (knowledge: Knowledge, { minutes, needs }: Reading): number =>
  needs.open.reduce((sum, name) => sum + (knowledge.access.get(name)?.minutes ?? 0), minutes);
