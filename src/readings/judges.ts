// The judges by the names that the knowledge folder gives them, and what each needs there.

import type { Reading } from '../knowledge/facts.js';
import { circuitVoltage } from './circuit-voltage.js';
import { heaterContinuity } from './heater-continuity.js';
import { heaterCurrent } from './heater-current.js';
import { heaterResistance } from './heater-resistance.js';
import type { Judge } from './opinion.js';
import { relativeHumidity } from './relative-humidity.js';
import { sensorResistance } from './sensor-resistance.js';
import { supplyVoltage } from './supply-voltage.js';
import { temperature } from './temperature.js';
import { thermostatContinuity } from './thermostat-continuity.js';
import { thickness } from './thickness.js';
import { timerMotorResistance } from './timer-motor-resistance.js';

export const JUDGES: ReadonlyMap<string, Judge> = new Map(
  [
    circuitVoltage,
    heaterContinuity,
    heaterCurrent,
    heaterResistance,
    relativeHumidity,
    sensorResistance,
    supplyVoltage,
    temperature,
    thermostatContinuity,
    thickness,
    timerMotorResistance,
  ].map((judge) => [judge.id, judge]),
);

/** @throws Error where the knowledge folder names a judge that does not exist; `mistakesOfReadings` reports it first */
export function judgeOf(reading: Reading): Judge {
  const judge = JUDGES.get(reading.judge);
  if (!judge) throw new Error(`${reading.id}: there is no judge "${reading.judge}"`);
  return judge;
}
