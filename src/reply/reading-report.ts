/** One reading by itself, in lines: the verdict, what was expected, by what, why, and what the number stands for. */
import type { CaseState, Measured } from '../case/state.js';
import type { Reading } from '../knowledge/facts.js';
import type { Against, Expected } from '../message/outgoing.js';
import { drawnCurrentA, drawnPowerW } from '../physics/resistor.js';
import { toleranceBandK } from '../physics/sensor-tolerance.js';
import { quantityOf, type Unit } from '../physics/units.js';
import { confidenceOf } from '../readings/confidence.js';
import { mainsOf } from '../readings/mains.js';
import { seen } from '../readings/ohms.js';
import type { Given } from '../readings/opinion.js';
import { sensorCurve } from '../readings/sensor-curve.js';
import { valueText } from '../readings/words.js';
import type { Judged } from '../readings/judge.js';
import type { WhatToExpect } from '../readings/expect.js';
import type { Reader } from './ice-amount.js';
import { say } from './say.js';

/** Where a reading is told about: its step, its case, and the other readings of it. */
export interface Told {
  readonly reading: Reading;
  readonly given: Given;
  readonly state: CaseState;
}

/** A judged reading, its value first. */
export function judgedLines(
  reader: Reader,
  told: Told,
  { measured, verdict, expected, against, why }: Judged,
): string[] {
  const { knowledge, words } = reader;
  const { reading } = told;
  const value = valueText(reader, measured.value, reading.quantity);
  const at = measured.atC === null ? null : valueText(reader, measured.atC, 'temperature');
  const shown = at === null ? value : say(knowledge, words, 'reading.at', { value, at });
  return [
    `${reading.name[words]}: ${shown}`,
    say(knowledge, words, 'report.verdict', { verdict: say(knowledge, words, `picture.sensor.verdict.${verdict}`) }),
    ...rangeLines(reader, told, expected, against, why),
    ...meansLines(reader, told, measured),
    ...drawsLines(reader, told, measured),
  ];
}

/** What to expect of a reading that nobody has taken. */
export function expectedLines(reader: Reader, told: Told, { expected, against, why }: WhatToExpect): string[] {
  return [told.reading.name[reader.words], ...rangeLines(reader, told, expected, against, why)];
}

function rangeLines(reader: Reader, told: Told, expected: Expected | null, against: Against, why: string): string[] {
  const { knowledge, words } = reader;
  const confidence = confidenceOf(knowledge, told.state, told.reading, told.given, against);
  const byFamily = against === 'case' && told.state.family !== null && confidence !== 'given';
  return [
    say(knowledge, words, 'report.expected', { expected: expectedText(reader, expected) }),
    say(knowledge, words, 'report.against', {
      against: byFamily
        ? say(knowledge, words, 'report.against.family')
        : say(knowledge, words, `page.against.${against}`),
      confidence: say(knowledge, words, `report.confidence.${confidence}`),
    }),
    say(knowledge, words, 'report.why', { why }),
  ];
}

function expectedText(reader: Reader, expected: Expected | null): string {
  const { knowledge, words } = reader;
  if (expected === null) return say(knowledge, words, 'report.expected.none');
  if ('state' in expected) return say(knowledge, words, `page.expected.${expected.state}`);
  const [low, high] = [expected.low, expected.high].map((end) =>
    valueText(reader, end, quantityOf(expected.unit as Unit)),
  );
  return say(knowledge, words, 'page.expected.range', { low: low ?? '', high: high ?? '' });
}

/** The temperature that a sensor's ohms stand for, with what its tolerance leaves open; only where its curve is known. */
function meansLines(reader: Reader, { reading, state }: Told, { value, curve }: Measured): string[] {
  const { knowledge, words, units } = reader;
  if (reading.judge !== 'sensor-resistance' || typeof value !== 'number' || value <= 0) return [];
  const family = state.family === null ? undefined : knowledge.units.get(state.family)?.sensor;
  const id = curve ?? (family && 'curve' in family ? family.curve : null);
  const known = id === null ? undefined : knowledge.curves.get(id);
  if (!known) return [];
  const sensor = sensorCurve(known);
  const means = toleranceBandK(sensor.curve, sensor.tolerance, value);
  if (means.kind !== 'found') return [];
  const width = units === 'us' ? means.plusMinusK * 1.8 : means.plusMinusK;
  const plus = say(knowledge, words, `report.degrees.${units}`, { value: Math.round(width * 10) / 10 });
  return [say(knowledge, words, 'report.means', { at: valueText(reader, means.temperatureC, 'temperature'), plus })];
}

/** What a heater of these ohms does at the outlet: as it was measured, else at its system's own voltage. */
function drawsLines(reader: Reader, { reading, given, state }: Told, { value }: Measured): string[] {
  const { knowledge, words } = reader;
  if (reading.judge !== 'heater-resistance') return [];
  const what = seen(reading, value);
  const mains = mainsOf({ knowledge, state, reading, given, others: state.readings });
  const volts = mains.measuredV ?? mains.system?.nominalV;
  if (what.kind !== 'ohms' || volts === undefined) return [];
  return [
    say(knowledge, words, 'report.draws', {
      volts: valueText(reader, volts, 'voltage'),
      amps: valueText(reader, drawnCurrentA(what.ohm, volts), 'current'),
      watts: Math.round(drawnPowerW(what.ohm, volts)),
    }),
  ];
}
