/** What the contract's shape cannot know: findings, values, parts, possible values. */
import type { Knowledge } from '../knowledge/facts.js';
import type { Incoming, InvalidInput } from '../message/incoming.js';
import { accept } from '../readings/accept.js';

export function check(knowledge: Knowledge, incoming: Incoming): InvalidInput | null {
  const { said } = incoming;
  if (said.kind === 'reading') {
    const accepted = accept(knowledge, said.reading);
    return accepted.ok ? null : { field: accepted.field, message: accepted.message };
  }
  if (said.kind !== 'answer') return null;
  const values = typeof said.value === 'string' ? [said.value] : said.value;
  const reading = knowledge.readings.get(said.finding);
  if (reading) {
    const allowed = reading.quantity === 'continuity' ? ['closed', 'open', 'not-sure'] : ['not-sure'];
    const wrong = values.length !== 1 || !allowed.includes(values[0] ?? '');
    return wrong
      ? {
          field: 'answer.value',
          message: `expected one of ${allowed.join(', ')}; a measured number comes as a reading`,
        }
      : null;
  }
  const finding = knowledge.findings.get(said.finding);
  if (!finding) return { field: 'answer.finding', message: `no finding is called "${said.finding}"` };
  const allowed = [...finding.values, 'not-sure'];
  const bad = values.find((v) => !allowed.includes(v));
  if (bad !== undefined) return { field: 'answer.value', message: `"${bad}" is not one of ${allowed.join(', ')}` };
  if (values.length > 1 && !finding.many)
    return { field: 'answer.value', message: `${said.finding} holds one value, not a list` };
  if (values.length > 1 && values.includes('not-sure'))
    return { field: 'answer.value', message: 'not-sure stands alone' };
  return null;
}
