/** A thaw with open doors in figures: from the place and thickness of the frost to water, hours and what to have ready. */
import type { CaseState } from '../case/state.js';
import type { Knowledge } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import { meltWaterLitres, thawTime, type IceLayer, type ThawTime } from '../physics/thaw.js';
import { about, iceText, waterText, type Reader } from './ice-amount.js';
import { valueText } from '../readings/words.js';
import { say } from './say.js';

/** SI; `said` is false where the caller did not say and the knowledge folder's usual value stands in. */
interface Stated {
  readonly value: number;
  readonly said: boolean;
}

export interface Thaw {
  readonly litres: number;
  readonly time: ThawTime;
  readonly thicknessM: Stated;
  readonly roomC: Stated;
}

/** The newest reading of a step as a number, else undefined. */
function measuredNumber(state: CaseState, part: string, quantity: string): number | undefined {
  const value = state.readings.findLast((r) => r.part === part && r.quantity === quantity)?.value;
  return typeof value === 'number' ? value : undefined;
}

/** The frost's thickness in m as it was said, never more than is taken for possible; else the usual one. */
export function thicknessOf(knowledge: Knowledge, state: CaseState): Stated {
  const { thickest, usual } = knowledge.places;
  const said = measuredNumber(state, 'frost', 'thickness');
  if (said === undefined) return { value: usual.thickness.value / 1000, said: false };
  return { value: Math.min(said, thickest.value / 1000), said: true };
}

/** kg/m3 of the densest kind that was seen. */
export function densityOf(knowledge: Knowledge, state: CaseState): number {
  const { densities, usual } = knowledge.places;
  const seen = (state.facts[F.frostKind]?.values ?? []).flatMap((kind) => densities[kind]?.value ?? []);
  const density = seen.length > 0 ? Math.max(...seen) : densities[usual.kind]?.value;
  if (density === undefined) throw new Error(`${usual.kind} has no density`);
  return density;
}

/** Ordinary rooms and a little beyond; physics knows no thaw outside them. */
const ROOM_C = [-50, 50] as const;

function roomOf(knowledge: Knowledge, state: CaseState): Stated {
  const said = measuredNumber(state, 'room', 'temperature');
  if (said === undefined) return { value: knowledge.places.usual.room.value, said: false };
  return { value: Math.min(Math.max(said, ROOM_C[0]), ROOM_C[1]), said: true };
}

/** m2 of frost: the places reported, and the coil where the fault ices it out of sight. */
function areaOf(knowledge: Knowledge, state: CaseState, system: string | null): number {
  const { areas, coil } = knowledge.places;
  const places = state.facts[F.frostPlace]?.values ?? [];
  const seen = places.reduce((sum, place) => sum + (areas[place]?.value ?? 0), 0);
  return seen + (system !== null && coil.systems.includes(system) ? coil.area.value : 0);
}

/**
 * The thaw of what the case knows; null where no place is known, or no frost is there.
 * @param system of the fault concluded, or null where the frost in sight is all that counts
 */
export function thawOf(knowledge: Knowledge, state: CaseState, system: string | null): Thaw | null {
  const areaM2 = areaOf(knowledge, state, system);
  const thicknessM = thicknessOf(knowledge, state);
  if (areaM2 <= 0 || thicknessM.value <= 0) return null;
  const { usual, roomHeat } = knowledge.places;
  const layer: IceLayer = {
    areaM2,
    thicknessM: thicknessM.value,
    densityKgM3: densityOf(knowledge, state),
    temperatureC: usual.frost.value,
  };
  const roomC = roomOf(knowledge, state);
  const time = thawTime(layer, roomC.value, { lowWM2K: roomHeat.low.value, highWM2K: roomHeat.high.value });
  return { litres: meltWaterLitres(layer), time, thicknessM, roomC };
}

/** The thaw in sentences: the water and what to have ready, the hours, and what was taken for what was not said. */
export function thawLines(reader: Reader, { litres, time, thicknessM, roomC }: Thaw): string[] {
  const { knowledge, words } = reader;
  const { water } = knowledge.places;
  const size = litres <= water.little.value ? 'little' : litres <= water.some.value ? 'some' : 'much';
  // a litre of water is a kilogram of ice
  const amounts = { water: waterText(reader, litres), ice: iceText(reader, litres) };
  const room = valueText(reader, roomC.value, 'temperature');
  const lines = [say(knowledge, words, `thaw.ready.${size}`, amounts)];
  if (!thicknessM.said) {
    const thickness = valueText(reader, thicknessM.value, 'thickness');
    lines.push(say(knowledge, words, 'thaw.assumed.thickness', { thickness }));
  }
  if (time.kind === 'stays-frozen') return [...lines, say(knowledge, words, 'thaw.stays', { room })];
  const low = about(time.lowHours);
  lines.push(say(knowledge, words, 'thaw.hours', { room, low, high: Math.max(low, about(time.highHours)) }));
  if (!roomC.said) lines.push(say(knowledge, words, 'thaw.assumed.room', { room }));
  return lines;
}
