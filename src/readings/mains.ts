// What the case knows of the mains: which system the unit belongs to, what the outlet was measured at, and whether it
// is too low for any test under power to condemn a part.

import type { Measured } from '../case/state.js';
import type { Knowledge, Reading } from '../knowledge/facts.js';
import { supplySystem, type SupplySystem } from '../physics/supply.js';
import type { Setting } from './opinion.js';
import { numberOf } from './numbers.js';

export const SUPPLY = 'supply.voltage';

/** The reading whose numbers other judges need too. @throws Error where the knowledge folder lacks it */
export function readingOf(knowledge: Knowledge, id: string): Reading {
  const reading = knowledge.readings.get(id);
  if (!reading) throw new Error(`the knowledge folder has no reading ${id}`);
  return reading;
}

/** The two systems, from the supply's numbers. */
export function systemsOf(knowledge: Knowledge): readonly [MainsSystem, MainsSystem] {
  let found = systems.get(knowledge);
  if (!found) {
    const supply = readingOf(knowledge, SUPPLY);
    systems.set(knowledge, (found = [systemOf(supply, 'us'), systemOf(supply, 'eu')]));
  }
  return found;
}

/** A supply system, and the voltage at or below which a test under power condemns nothing. */
export interface MainsSystem extends SupplySystem {
  readonly name: 'us' | 'eu';
  /** below this there is no supply, only what a meter picks up from wires nearby */
  readonly absentBelowV: number;
  readonly noVerdictV: number;
}

const systems = new WeakMap<Knowledge, readonly [MainsSystem, MainsSystem]>();

function systemOf(supply: Reading, name: MainsSystem['name']): MainsSystem {
  const volts = (key: string): number => numberOf(supply, `${key}-${name}`, 'V');
  return {
    name,
    nominalV: volts('nominal'),
    tolerable: { lowV: volts('tolerable-low'), highV: volts('tolerable-high') },
    noVerdictV: volts('no-verdict'),
    absentBelowV: numberOf(supply, 'absent-below', 'V'),
  };
}

/** The system that a rating plate's voltage belongs to. */
export function systemByRating(knowledge: Knowledge, ratedV: number): MainsSystem | undefined {
  const found = supplySystem(Math.min(ratedV, 1000), systemsOf(knowledge));
  return systemsOf(knowledge).find((each) => each.nominalV === found?.nominalV);
}

/** The system that a measured voltage is nearest to; undefined where there is no supply at all. */
export function systemByValue(knowledge: Knowledge, volts: number): MainsSystem | undefined {
  const [us, eu] = systemsOf(knowledge);
  if (volts < us.absentBelowV) return undefined;
  return volts < numberOf(readingOf(knowledge, SUPPLY), 'system-split', 'V') ? us : eu;
}

/** The newest reading of a step among the others. */
export const latest = (others: readonly Measured[], id: string): Measured | undefined =>
  others.findLast((m) => `${m.part}.${m.quantity}` === id);

/** Standard uncertainty of a meter whose limits are a percentage and a floor in `unit`; limits are taken as k = 2. */
export const meterError = (reading: Reading, value: number, unit: 'ohm' | 'V' | 'A'): number =>
  ((numberOf(reading, 'meter-percent', '%') / 100) * value + numberOf(reading, 'meter-floor', unit)) / 2;

/** A voltage that some rating states. */
export function ratedVoltage(rating: Measured['rating']): number | undefined {
  return rating && 'voltage' in rating ? rating.voltage : undefined;
}

export interface Mains {
  /** the system that the outlet is on, or that the unit was made for; undefined where nothing tells */
  readonly system: MainsSystem | undefined;
  /** the outlet as it was measured, V, where it has been */
  readonly measuredV: number | undefined;
  /** measured, and so low that a test under power condemns nothing */
  readonly tooLow: boolean;
}

/** The mains as the other readings, their ratings and the unit's family tell; a measured outlet comes first. */
export function mainsOf({ knowledge, state, given, others }: Setting): Mains {
  const outlet = latest(others, SUPPLY);
  const measuredV = typeof outlet?.value === 'number' ? outlet.value : undefined;
  const family = state.family === null ? undefined : knowledge.units.get(state.family);
  const ratings = [given, ...others.toReversed()].flatMap((m) => ratedVoltage(m.rating) ?? []);
  const rated = ratings[0] ?? family?.heater?.voltage.value;
  const byValue = measuredV === undefined ? undefined : systemByValue(knowledge, measuredV);
  const byRating = rated === undefined ? undefined : systemByRating(knowledge, rated);
  const system = byValue ?? byRating;
  return { system, measuredV, tooLow: measuredV !== undefined && isTooLow(measuredV, byRating ?? system) };
}

const isTooLow = (volts: number, system: MainsSystem | undefined): boolean => !system || volts <= system.noVerdictV;
