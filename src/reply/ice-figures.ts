/** What is known of this unit's ice, in figures: beside a conclusion, and beside the answer to a question. */
import type { CaseState } from '../case/state.js';
import type { Judged } from '../readings/judge.js';
import type { Reader } from './ice-amount.js';
import { nextDefrostLine } from './next-defrost.js';
import { oneDefrostLines } from './one-defrost.js';
import { thawLines, thawOf } from './thaw.js';

/**
 * Of a conclusion: the thaw where its remedy is one, and to a technician whether one defrost can clear the coil. One
 * paragraph a subject, none where nothing is known of the ice.
 */
export function iceFigures(
  reader: Reader,
  state: CaseState,
  judged: readonly Judged[],
  fault: string,
  remedy: string,
): string[] {
  const { knowledge, words } = reader;
  const system = knowledge.faults.get(fault)?.system ?? null;
  const thaw = knowledge.places.thaws.includes(remedy) ? thawOf(knowledge, state, system) : null;
  const lines = thaw ? thawLines(reader, thaw) : [];
  const defrost = words === 'technician' && system !== null ? oneDefrostLines(reader, state, judged, system) : [];
  return [lines, defrost.filter((line) => !lines.includes(line))].filter((l) => l.length > 0).map((l) => l.join(' '));
}

/** What this case adds to the general answer of a topic. */
export function topicFigures(reader: Reader, state: CaseState, topic: string | null): string[] {
  if (topic === 'how-to-thaw') {
    const thaw = thawOf(reader.knowledge, state, null);
    return thaw ? [thawLines(reader, thaw).join(' ')] : [];
  }
  const next = topic === 'defrost-cycle' ? nextDefrostLine(reader, state) : null;
  return next === null ? [] : [next];
}
