// How sure what a reading is judged against is: what the person stated, or the weakest source of the numbers behind it.

import type { CaseState } from '../case/state.js';
import type { Knowledge, Reading } from '../knowledge/facts.js';
import type { Against } from '../message/outgoing.js';
import { HEATER_OHMS } from './heater-rating.js';
import { SUPPLY } from './mains.js';
import type { Given } from './opinion.js';

/** From the surest to the least sure. */
const CONFIDENCE = ['given', 'published', 'common-practice', 'from-memory'] as const;
export type Confidence = (typeof CONFIDENCE)[number];

const weakest = (sources: readonly Confidence[]): Confidence =>
  CONFIDENCE.findLast((each) => sources.includes(each)) ?? 'common-practice';

const MAINS = ['tolerable-low-us', 'tolerable-high-us', 'tolerable-low-eu', 'tolerable-high-eu'];
const RATED = ['rated-power-low', 'rated-power-high'];

/** The numbers that a judge's band of common practice rests on, and the reading that holds them, if another. */
const RESTS_ON: Readonly<Record<string, { readonly in?: string; readonly keys: readonly string[] }>> = {
  'circuit-voltage': { in: SUPPLY, keys: MAINS },
  'heater-continuity': { keys: ['beeper-limit'] },
  'heater-current': { in: HEATER_OHMS, keys: RATED },
  'heater-resistance': { keys: RATED },
  'sensor-resistance': { keys: ['anchor', 'band-factor'] },
  'supply-voltage': { keys: MAINS },
  'thermostat-continuity': { keys: ['unmarked-closed-below', 'unmarked-open-above'] },
  'timer-motor-resistance': { keys: ['typical-low-us', 'typical-high-us', 'typical-low-eu', 'typical-high-eu'] },
};

/** A range of states rests on the two ends of the sound one. */
const endsOf = ({ values, healthy }: Reading): string[] =>
  ['from', 'to'].map((end) => `${values[healthy] ?? ''}-${end}`);

/** @param against what the judge says that it judged by */
export function confidenceOf(
  knowledge: Knowledge,
  state: CaseState,
  reading: Reading,
  { curve }: Pick<Given, 'curve'>,
  against: Against,
): Confidence {
  switch (against) {
    case 'sheet':
    case 'rating':
      return 'given';
    case 'curve':
      return (curve === null ? undefined : knowledge.curves.get(curve)?.source) ?? 'common-practice';
    case 'case':
      return ofFamily(knowledge, state, reading) ?? 'given';
    case 'common-practice': {
      const { in: id, keys } = RESTS_ON[reading.judge] ?? { keys: endsOf(reading) };
      const holder = id === undefined ? reading : knowledge.readings.get(id);
      return weakest(keys.flatMap((key) => holder?.numbers[key]?.source ?? []));
    }
  }
}

/** Of the unit family's own values, where it has some for this part. */
function ofFamily(knowledge: Knowledge, state: CaseState, { judge }: Reading): Confidence | undefined {
  const family = state.family === null ? undefined : knowledge.units.get(state.family);
  if (!family) return undefined;
  const { sensor, heater, thermostat } = family;
  if (judge === 'sensor-resistance' && sensor)
    return 'curve' in sensor ? knowledge.curves.get(sensor.curve)?.source : sensor.source;
  if (judge === 'thermostat-continuity' && thermostat)
    return weakest([thermostat.opensC.source, thermostat.differentialC.source]);
  return heater && weakest([heater.power.source, heater.voltage.source]);
}
