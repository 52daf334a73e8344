// What a defrost heater should be: its ohms by the sheet, by its rating, by what the case knows of the unit, or by what
// is common. Used for its ohms, its current and what to expect of either.

import type { Against } from '../message/outgoing.js';
import type { Measured } from '../case/state.js';
import { ratedBandOhm } from '../physics/resistor.js';
import { mainsOf, readingOf, systemByRating, systemsOf, type Mains } from './mains.js';
import { numberOf } from './numbers.js';
import type { OhmBand } from './ohms.js';
import type { Setting } from './opinion.js';

export const HEATER_OHMS = 'defrost-heater.resistance';

/** Numbers that stand with the heater's resistance. */
export const HEATER_NUMBERS = {
  'power-under': '%',
  'power-over': '%',
  'rated-power-low': 'W',
  'rated-power-high': 'W',
  'sheet-percent': '%',
} as const;

export interface HeaterBand {
  readonly against: Against;
  readonly band: OhmBand;
  /** what a heater made for the other system would show; null where the system is not known, or its other one */
  readonly otherSystem: OhmBand | null;
  readonly mains: Mains;
}

interface Rated {
  readonly against: Against;
  readonly power: number;
  readonly voltage: number;
}

const isHeater = (rating: Measured['rating']): rating is { power: number; voltage: number } =>
  rating !== null && 'power' in rating;

/** A sheet's value of the heater's ohms: with this reading, or with an earlier one. */
function sheetOhm({ given, others }: Setting): { readonly against: Against; readonly ohm: number } | undefined {
  if (given.sheet && given.quantity === 'resistance') return { against: 'sheet', ohm: given.sheet.value };
  const earlier = others.findLast((m) => m.part === given.part && m.quantity === 'resistance' && m.sheet !== null);
  return earlier?.sheet ? { against: 'case', ohm: earlier.sheet.value } : undefined;
}

function ratingOf({ knowledge, state, given, others }: Setting): Rated | undefined {
  if (isHeater(given.rating)) return { against: 'rating', ...given.rating };
  const earlier = others.findLast((m) => m.part === given.part && isHeater(m.rating));
  if (earlier && isHeater(earlier.rating)) return { against: 'case', ...earlier.rating };
  const family = state.family === null ? undefined : knowledge.units.get(state.family)?.heater;
  return family && { against: 'case', power: family.power.value, voltage: family.voltage.value };
}

/** The band of the heater's ohms, and of one that was made for the other mains system. */
export function heaterBand(setting: Setting): HeaterBand {
  const { knowledge } = setting;
  const numbers = readingOf(knowledge, HEATER_OHMS);
  const tolerance = {
    under: numberOf(numbers, 'power-under', '%') / 100,
    over: numberOf(numbers, 'power-over', '%') / 100,
  };
  const least = numberOf(numbers, 'rated-power-low', 'W');
  const most = numberOf(numbers, 'rated-power-high', 'W');
  const mains = mainsOf(setting);
  const others = mains.system && systemsOf(knowledge).filter((s) => s.nominalV !== mains.system?.nominalV);
  const other = others?.[0]?.nominalV;

  const byPower = (low: number, high: number, volts: readonly number[], common: boolean): OhmBand => ({
    lowOhm: ratedBandOhm(high, Math.min(...volts), tolerance).lowOhm,
    highOhm: ratedBandOhm(low, Math.max(...volts), tolerance).highOhm,
    flat: common,
    common,
    thermometer: 0,
  });
  const anyPower = (volts: readonly number[]): OhmBand => byPower(least, most, volts, true);

  const rated = ratingOf(setting);
  const sheet = sheetOhm(setting);
  const unlike = other === undefined ? null : anyPower([other]);
  if (sheet && (sheet.against === 'sheet' || rated?.against !== 'rating')) {
    const strays = 1 + numberOf(numbers, 'sheet-percent', '%') / 100;
    const band = {
      lowOhm: sheet.ohm / strays,
      highOhm: sheet.ohm * strays,
      flat: false,
      common: false,
      thermometer: 0,
    };
    return { against: sheet.against, band, otherSystem: unlike, mains };
  }
  if (rated) {
    const made = systemByRating(knowledge, rated.voltage)?.nominalV;
    // Made for the other system than the outlet is on: this power has other ohms here.
    const fits =
      mains.system && made !== undefined && made !== mains.system.nominalV ? mains.system.nominalV : rated.voltage;
    return {
      against: rated.against,
      band: byPower(rated.power, rated.power, [fits], false),
      otherSystem: other === undefined ? null : byPower(rated.power, rated.power, [other], false),
      mains,
    };
  }
  const volts = mains.system ? [mains.system.nominalV] : systemsOf(knowledge).map((s) => s.nominalV);
  return { against: 'common-practice', band: anyPower(volts), otherSystem: unlike, mains };
}
