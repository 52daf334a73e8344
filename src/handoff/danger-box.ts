/**
 * The box on top of the printed page: the dangers, that nobody works on the unit before one of level stop is cleared,
 * and the state of the unit with who said so and when. A state that was told is never taken for one that was proved.
 */
import type { CaseState } from '../case/state.js';
import type { Knowledge } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import type { Escalation } from '../message/outgoing.js';
import type { Slots } from '../reply/say.js';
import { tag, type Markup } from './markup.js';

const WORDS = 'technician';

/** A text of the page by its key. */
export type Texts = (key: string, slots?: Slots) => string;

export function dangerBox(
  knowledge: Knowledge,
  state: CaseState,
  { safety }: Escalation,
  stop: boolean,
  t: Texts,
  when: (iso: string) => string,
): Markup {
  const lines = safety.hazards.map(({ hazard, level, at }) => {
    const name = knowledge.hazards.get(hazard)?.name[WORDS] ?? hazard;
    const told = tag('span', { class: 'meta' }, ` ${t('print.since', { when: when(at) })}`);
    return tag('p', {}, tag('span', { class: `${level}-line` }, t(`print.${level}`, { name })), told);
  });
  const told = (finding: string): string => {
    const fact = state.facts[finding];
    if (!fact || fact.notSure) return '';
    const role = state.people.find((p) => p.id === fact.by)?.role ?? state.role;
    const key = role === 'homeowner' ? 'print.told-by.homeowner' : 'print.told-by.technician';
    return t(key, { when: when(fact.at) });
  };
  const known = (v: 'yes' | 'no' | 'unknown', key: 'power' | 'water', finding: string): Markup =>
    tag(v === 'yes' ? 'span' : 'strong', {}, t(`print.${key}.${v}`, { told: told(finding) }));
  return tag(
    'section',
    { class: stop ? 'danger stop' : 'danger' },
    tag('h2', {}, t('print.danger')),
    lines.length > 0 ? lines : tag('p', {}, t('print.no-danger')),
    stop ? tag('p', {}, tag('strong', {}, t('print.hands-off'))) : null,
    tag('p', {}, known(safety.powerOff, 'power', F.power), ' ', known(safety.waterOff, 'water', F.water)),
    stop ? tag('p', {}, t('print.danger-cause')) : null,
  );
}
