/** A decided remedy as the conclusion of the contract, and in the words that are read. */
import type { Knowledge, Words } from '../knowledge/facts.js';
import type { Conclusion } from '../message/outgoing.js';
import { bulleted, list, numbered, percent, say, sureness } from './say.js';

/** `systemProbability`: over all faults of the fault's system; `figures`: of this unit's ice, said before the steps. */
export function conclusionOf(
  knowledge: Knowledge,
  words: Words,
  faultId: string,
  ranked: readonly { readonly fault: string; readonly probability: number }[],
  flammable: boolean,
  figures: readonly string[] = [],
): Conclusion {
  const fault = knowledge.faults.get(faultId);
  if (!fault) throw new Error(`no fault is called ${faultId}`);
  const { action, steps, parts, tools, verify } = fault.repair[words];
  const cautions = [
    ...fault.cautions[words],
    ...(flammable && parts.length > 0 ? [say(knowledge, words, 'flammable')] : []),
  ];
  const same = ranked.filter((r) => knowledge.faults.get(r.fault)?.system === fault.system);
  const probability = ranked.find((r) => r.fault === faultId)?.probability ?? 0;
  return {
    fault: faultId,
    system: fault.system,
    probability,
    systemProbability: Math.min(
      1,
      same.reduce((sum, r) => sum + r.probability, 0),
    ),
    action,
    steps: [...figures, ...steps],
    parts: [...parts],
    tools: [...tools],
    verify: [...verify],
    prevent: [...fault.prevent[words]],
    cautions,
  };
}

/** The paragraphs of a conclusion, shortest form first; `pooled` where only the system is known. */
export function conclusionParagraphs(knowledge: Knowledge, words: Words, c: Conclusion): string[] {
  const fault = knowledge.faults.get(c.fault);
  const system = knowledge.systems.get(c.system)?.name[words] ?? c.system;
  const unclear = c.probability < 0.5 && c.systemProbability >= 0.5;
  const sure = sureness(knowledge, words, unclear ? c.systemProbability : c.probability);
  const out = [
    unclear && words === 'homeowner'
      ? say(knowledge, words, 'conclude.system', { system })
      : say(knowledge, words, 'conclude.lead', { name: fault?.name[words] ?? c.fault, what: fault?.what[words] ?? '' }),
    say(knowledge, words, 'conclude.sure', {
      sure,
      percent: percent(c.probability),
      system,
      systemPercent: percent(c.systemProbability),
    }),
  ];
  if (unclear && words === 'technician') out.push(say(knowledge, words, 'conclude.system', { system }));
  if (c.cautions.length)
    out.push(`${say(knowledge, words, 'conclude.cautions')}\n${bulleted(knowledge, words, c.cautions)}`);
  out.push(`${say(knowledge, words, 'conclude.steps')}\n${numbered(knowledge, words, c.steps)}`);
  if (c.parts.length) out.push(say(knowledge, words, 'conclude.parts', { list: list(knowledge, words, c.parts) }));
  if (c.tools.length) out.push(say(knowledge, words, 'conclude.tools', { list: list(knowledge, words, c.tools) }));
  out.push(`${say(knowledge, words, 'conclude.verify')}\n${bulleted(knowledge, words, c.verify)}`);
  return out;
}
