/** The readings that words hold, as events; and the units that a person uses first. It judges none of them. */
import type { CaseEvent, Measurement } from '../case/events.js';
import { fold, type CaseState } from '../case/state.js';
import type { Knowledge } from '../knowledge/facts.js';
import type { Withdrawn } from '../message/outgoing.js';
import { accept } from '../readings/accept.js';
import { proposeReading, type Speaker } from '../understand/propose.js';
import type { Understanding } from '../understand/understand.js';

/** Readings in words. One that cannot be is left out; the question stands. */
export function readingsOf(
  knowledge: Knowledge,
  state: CaseState,
  u: Understanding,
  text: string,
  who: Speaker,
): {
  readonly events: readonly CaseEvent[];
  readonly withdrawn: readonly Withdrawn[];
  readonly measured: readonly Measurement[];
} {
  const events: CaseEvent[] = [];
  const withdrawn: Withdrawn[] = [];
  const measured: Measurement[] = [];
  const units = unitsIn(u, text);
  if (units && state.units === null) events.push({ type: 'units-chosen', ...who, units });
  let now = state;
  for (const { reading, atAssumed, mark } of u.readings) {
    const accepted = accept(knowledge, reading, atAssumed, mark);
    if (!accepted.ok) continue;
    const { measurement } = accepted;
    const event: CaseEvent = { type: 'measured', ...who, measurement };
    const after = fold(now, [event]);
    withdrawn.push(...proposeReading(now, after, measurement, who).withdrawn);
    now = after;
    measured.push(measurement);
    events.push(event);
  }
  return { events, withdrawn, measured };
}

/** The units a person uses first: Fahrenheit and inches, or Celsius and millimetres. */
function unitsIn(u: Understanding, text: string): 'us' | 'si' | null {
  for (const { reading } of u.readings) {
    if (reading.unit === 'degF' || reading.unit === 'in') return 'us';
    if (reading.unit === 'degC' || reading.unit === 'mm' || reading.unit === 'cm') return 'si';
  }
  if (/\d\s*(?:\u00b0|deg(?:rees?)?)?\s*F\b/i.test(text)) return 'us';
  return /\d\s*(?:\u00b0|deg(?:rees?)?)?\s*C\b/i.test(text) ? 'si' : null;
}
