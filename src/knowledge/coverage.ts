/** What the folder covers: for every fault the observations that favour it, for every finding its words. */
import type { Knowledge } from './facts.js';

export interface Coverage {
  readonly fault: string;
  /** observations that are at least three times as likely under the fault as elsewhere, the strongest first */
  readonly favouredBy: readonly string[];
}

const FAVOUR = 3;

export function coverageOf(knowledge: Knowledge): Coverage[] {
  return knowledge.faultIds.map((fault, i) => {
    const found: { text: string; ratio: number }[] = [];
    for (const step of knowledge.steps.values()) {
      if (!step.table) continue;
      const row = step.table.rows[i];
      step.values.forEach((value, v) => {
        const ratio = (row?.[v] ?? 0) / (step.table?.base[v] ?? 1);
        if (ratio >= FAVOUR) found.push({ text: `${step.id} = ${value}`, ratio });
      });
    }
    return { fault, favouredBy: found.sort((a, b) => b.ratio - a.ratio).map((f) => f.text) };
  });
}
