/** Whether one automatic defrost can clear the frost on the coil, so that a repair is not judged by a coil that it cannot. */
import type { CaseState } from '../case/state.js';
import type { Knowledge } from '../knowledge/facts.js';
import { timedDefrost } from '../physics/defrost.js';
import { drawnPowerW } from '../physics/resistor.js';
import { layerMassKg } from '../physics/thaw.js';
import type { Judged } from '../readings/judge.js';
import { valueText } from '../readings/words.js';
import { iceText, type Reader } from './ice-amount.js';
import { say } from './say.js';
import { densityOf, thicknessOf } from './thaw.js';

const HEATER = 'defrost-heater';

/** The heater's power in W: of its good ohms at the measured supply, by its rating, of its family, or the usual one. */
function powerOf(knowledge: Knowledge, state: CaseState, judged: readonly Judged[]): number {
  const family = state.family === null ? undefined : knowledge.units.get(state.family)?.heater;
  const ohm = judged.findLast((j) => j.step === `${HEATER}.resistance` && j.verdict === 'good')?.measured.value;
  const supply = judged.findLast((j) => j.step === 'supply.voltage' && j.outcome !== 'bad-absent')?.measured.value;
  if (typeof ohm === 'number' && typeof supply === 'number') return drawnPowerW(ohm, supply);
  const rating = state.readings.findLast((r) => r.part === HEATER && r.rating !== null)?.rating;
  if (rating && 'power' in rating) return rating.power;
  return family?.power.value ?? knowledge.defrost.heater.value;
}

/** One or two sentences; none without frost, or where the fault does not ice the coil. */
export function oneDefrostLines(reader: Reader, state: CaseState, judged: readonly Judged[], system: string): string[] {
  const { knowledge, words } = reader;
  const { coil, usual } = knowledge.places;
  const thickness = thicknessOf(knowledge, state);
  if (!coil.systems.includes(system) || thickness.value <= 0) return [];
  const layer = {
    areaM2: coil.area.value,
    thicknessM: thickness.value,
    densityKgM3: densityOf(knowledge, state),
    temperatureC: usual.frost.value,
  };
  const frostKg = layerMassKg(layer);
  const family = state.family === null ? undefined : knowledge.units.get(state.family)?.timer;
  const most = family?.defrostMinutes.value ?? knowledge.defrost.lasts.value;
  const powerW = powerOf(knowledge, state, judged);
  const heat = { powerW, efficiency: knowledge.defrost.efficiency.value };
  const outcome = timedDefrost(frostKg, layer.temperatureC, heat, most * 60);
  const known = { watts: Math.round(powerW), most, ice: iceText(reader, frostKg) };
  const line =
    outcome.kind === 'clears'
      ? say(knowledge, words, 'defrost.one.clears', { ...known, minutes: Math.ceil(outcome.takesS / 60) })
      : say(knowledge, words, 'defrost.one.leaves', { ...known, left: iceText(reader, outcome.frostKg) });
  if (thickness.said) return [line];
  const assumed = { thickness: valueText(reader, thickness.value, 'thickness') };
  return [line, say(knowledge, words, 'thaw.assumed.thickness', assumed)];
}
