/**
 * What a text says of a part's own plate: a heater's watts and volts ("31 ohms, it's a 450w 120v"), the two numbers
 * stamped on a thermostat ("marked 60-40"). They are no readings; a reading is judged by them.
 */
import type { Mark } from '../case/events.js';
import { normalForm } from '../message/text.js';
import type { Found } from './quantities.js';

export interface Plate {
  readonly heater: { readonly power: number; readonly voltage: number } | null;
  readonly mark: Mark | null;
  /** the quantities that are not plate */
  readonly measured: Found[];
}

/** Signs between the watts and the volts of one plate: "450 W at 120 V", "450w/120v". */
const TOGETHER = 12;
const MARK =
  /(?:mark(?:ed|ing|s)?|stamp(?:ed|s)?|says|labell?ed)(?:\s+(?:it|is|on|as|with|of|at))*\s*:?\s*"?[a-z]?(\d{2,3})\s*[-/]\s*(\d{1,3})\s*\u00b0?\s*([cf](?![a-z]))?/i;

export function plateIn(text: string, found: readonly Found[]): Plate {
  const normal = normalForm(text);
  const stamped = MARK.exec(normal);
  const [first, second] = [Number(stamped?.[1]), Number(stamped?.[2])];
  const from = stamped ? stamped.index : -1;
  const to = stamped ? stamped.index + stamped[0].length : -1;
  const scale = stamped?.[3]?.toLowerCase();
  const measured = found.filter((f) => f.end <= from || f.start >= to);
  return {
    ...heaterPlate(measured),
    mark: stamped ? { mark: [first, second], unit: scale === 'c' ? 'degC' : scale === 'f' ? 'degF' : null } : null,
  };
}

function heaterPlate(found: Found[]): Pick<Plate, 'heater' | 'measured'> {
  const power = found.find((f) => f.kind === 'power' && typeof f.value === 'number');
  const apart = (f: Found): number => (power ? Math.max(f.start - power.end, power.start - f.end) : Infinity);
  const volts = found.find((f) => f.kind === 'voltage' && typeof f.value === 'number' && apart(f) <= TOGETHER);
  if (typeof power?.value !== 'number' || typeof volts?.value !== 'number') return { heater: null, measured: found };
  return {
    heater: { power: power.value, voltage: volts.value },
    measured: found.filter((f) => f !== power && f !== volts),
  };
}
