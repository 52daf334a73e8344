/** The escalation as Markdown that is read in half a minute: danger and state first, then cause, readings, what to bring. */
import type { Knowledge } from '../knowledge/facts.js';
import type { Escalation } from '../message/outgoing.js';
import { faultName } from '../reply/names.js';
import { bulleted, percent, say, sureness, type Slots } from '../reply/say.js';
import { readingCells } from './reading-cells.js';

const WORDS = 'technician';
/** A cause less likely than this is no news on a page read in half a minute. */
const LEAST_SHOWN = 0.05;

export function pageOf(knowledge: Knowledge, e: Escalation, units: 'us' | 'si'): string {
  const t = (key: string, slots: Slots = {}): string => say(knowledge, WORDS, `page.${key}`, slots);
  const state = (v: 'yes' | 'no' | 'unknown'): string => t(v === 'unknown' ? 'unknown-state' : v);
  const block = (key: string, lines: readonly string[]): string[] =>
    lines.length ? [`**${t(key)}**`, bulleted(knowledge, WORDS, lines)] : [];
  const out: string[] = [
    `# ${t('title', { kind: t(`kind.${e.kind}`), urgency: t(`urgency.${e.urgency}`), situation: e.situation })}`,
    `## ${t('safety')}`,
    t('safety.power', { value: state(e.safety.powerOff), water: state(e.safety.waterOff) }),
  ];
  if (e.safety.toldNotToDo.length) out.push(t('safety.told'), bulleted(knowledge, WORDS, e.safety.toldNotToDo));
  const background = [
    e.background.unit,
    e.background.room,
    e.background.history,
    e.background.done,
    e.background.contact,
  ].filter((b) => b !== null);
  out.push(`## ${t('assessment')}`);
  out.push(
    ...block('causes', [
      ...e.assessment.ranking
        .filter((r) => r.probability >= LEAST_SHOWN)
        .map((r) =>
          t('cause', {
            cause: faultName(knowledge, WORDS, r.fault),
            percent: percent(r.probability),
            sure: sureness(knowledge, WORDS, r.probability),
          }),
        ),
      ...e.assessment.pairs.map((p) =>
        t('pair', {
          one: faultName(knowledge, WORDS, p.faults[0] ?? ''),
          other: faultName(knowledge, WORDS, p.faults[1] ?? ''),
          percent: percent(p.probability),
        }),
      ),
    ]),
  );
  out.push(
    ...block(
      'measured',
      e.assessment.readings.map((r) => t('reading', { ...readingCells(knowledge, r, units) })),
    ),
  );
  out.push(
    ...block(
      'conflicts',
      e.assessment.conflicts.map((c) => c.text),
    ),
  );
  out.push(
    ...block(
      'ruled-out',
      e.assessment.ruledOut.map((r) =>
        t('ruled-out.item', { cause: faultName(knowledge, WORDS, r.fault), because: r.because }),
      ),
    ),
  );
  out.push(
    ...block(
      'not-checked',
      e.assessment.notChecked.map((n) => n.text),
    ),
  );
  out.push(`## ${t('recommendation')}`, e.recommendation.why);
  out.push(...block('first-checks', e.recommendation.firstChecks), ...block('bring', e.recommendation.bring));
  out.push(`**${t('skill')}**: ${e.recommendation.skill}`);
  out.push(`## ${t('background')}`, bulleted(knowledge, WORDS, background), t('transcript', { command: e.transcript }));
  return `${out.join('\n\n')}\n`;
}
