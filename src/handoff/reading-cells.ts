/** One judged reading in the words of a page: what was measured, what was expected, against what, and the verdict. */
import type { Knowledge, QuantityName } from '../knowledge/facts.js';
import type { ReadingOut } from '../message/outgoing.js';
import { amount } from '../reply/names.js';
import { say, type Slots } from '../reply/say.js';

const WORDS = 'technician';

export interface ReadingCells {
  readonly part: string;
  readonly value: string;
  readonly expected: string;
  readonly against: string;
  readonly verdict: string;
}

export function readingCells(knowledge: Knowledge, r: ReadingOut, units: 'us' | 'si'): ReadingCells {
  const t = (key: string, slots: Slots = {}): string => say(knowledge, WORDS, `page.${key}`, slots);
  const quantity = r.quantity as QuantityName;
  const value = typeof r.value === 'number' ? amount(r.value, quantity, units) : r.value;
  const at = r.atC === null ? null : amount(r.atC, 'temperature', units);
  return {
    part: knowledge.parts.get(r.part)?.name[WORDS] ?? r.part,
    value: at === null ? value : say(knowledge, WORDS, 'reading.at', { value, at }),
    expected:
      r.expected === null
        ? t('expected.none')
        : 'state' in r.expected
          ? t(`expected.${r.expected.state}`)
          : t(
              'expected.range',
              range(amount(r.expected.low, quantity, units), amount(r.expected.high, quantity, units)),
            ),
    against: t(`against.${r.against}`),
    verdict: say(knowledge, WORDS, `verdict.${r.verdict}`),
  };
}

/** "22.5 ohm" and "54.3 ohm" share their unit: it is said once. */
function range(low: string, high: string): { low: string; high: string } {
  const unit = high.slice(high.lastIndexOf(' '));
  return { low: low.endsWith(unit) ? low.slice(0, -unit.length) : low, high };
}
