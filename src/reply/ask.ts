/** The one thing asked next, with its words and its choices. */
import type { Question } from '../case/events.js';
import type { CaseState } from '../case/state.js';
import type { Ask, Knowledge, Words } from '../knowledge/facts.js';
import type { AskOut } from '../message/outgoing.js';
import { faultName, labelOf, nameOf } from './names.js';
import { say } from './say.js';

/** In a question's `value`: not known, and to be found out by doing something and watching. */
export const WATCH = 'watch';

/** The words of a question's step: its own, or those of what has to be watched first. */
export function asksOf(knowledge: Knowledge, words: Words, q: Question): Ask | null {
  const watch = q.value === WATCH && q.finding ? knowledge.findings.get(q.finding)?.watch : null;
  return (watch ?? knowledge.steps.get(q.finding ?? q.reading ?? ''))?.ask[words] ?? null;
}

/** A question whether one of these hazards is there, the likeliest first. */
export const dangerAsked = (hazards: readonly string[]): Question => ({
  kind: 'confirm',
  finding: null,
  reading: null,
  about: 'danger',
  value: hazards.join(' '),
  was: null,
  notBefore: null,
});
export const doubtedIn = (question: Question): readonly string[] => question.value?.split(' ') ?? [];

/** Why this step, as the planner found it. */
export interface Reason {
  readonly tells: readonly [string, string] | null;
  readonly minutes: number;
  readonly openAlready: boolean;
}

export function askOut(
  knowledge: Knowledge,
  words: Words,
  question: Question,
  state: CaseState,
  reason: Reason | null = null,
): AskOut {
  const { kind, finding, reading, notBefore } = question;
  return {
    finding,
    reading,
    text: textOf(knowledge, words, question, state),
    why: whyOf(knowledge, words, question, reason),
    choices: choicesOf(knowledge, words, question),
    kind,
    notBefore,
  };
}

function textOf(knowledge: Knowledge, words: Words, q: Question, state: CaseState): string {
  if (q.about) return aboutText(knowledge, words, q, state);
  const asks = asksOf(knowledge, words, q);
  if (!asks) throw new Error(`nothing is asked by ${q.finding ?? q.reading ?? 'this question'}`);
  if (q.kind === 'confirm' && q.finding) {
    const slots = {
      name: nameOf(knowledge, words, q.finding),
      value: labelOf(knowledge, words, q.finding, q.value ?? ''),
      was: labelOf(knowledge, words, q.finding, q.was ?? ''),
    };
    return say(knowledge, words, q.was ? 'confirm-change' : 'confirm-value', slots);
  }
  return asks.question;
}

function aboutText(knowledge: Knowledge, words: Words, q: Question, state: CaseState): string {
  if (q.about === 'degrees') return say(knowledge, words, 'degrees', { value: q.value ?? '' });
  if (q.about === 'danger') {
    const [first = '', ...others] = doubtedIn(q);
    const question = knowledge.hazards.get(first)?.doubt[words];
    if (!question) throw new Error(`no hazard is called "${first}"`);
    return others.length > 0
      ? say(knowledge, words, 'hazard.doubt.which')
      : say(knowledge, words, 'hazard.doubt', { question });
  }
  const names = state.hazards
    .filter((h) => h.level === 'stop' && !h.cleared)
    .map((h) => knowledge.hazards.get(h.hazard)?.name[words] ?? h.hazard);
  return say(knowledge, words, 'hazard.take-back', { name: names.join(', ') });
}

function whyOf(knowledge: Knowledge, words: Words, q: Question, reason: Reason | null): string {
  if (q.about === 'degrees') return say(knowledge, words, 'degrees.why');
  if (q.about === 'danger') return say(knowledge, words, 'hazard.doubt.why');
  if (q.about) return say(knowledge, words, 'hazard.take-back.why');
  if (q.kind === 'confirm') return say(knowledge, words, 'confirm.why');
  const sentences = [asksOf(knowledge, words, q)?.why ?? ''];
  if (reason?.tells && words === 'technician') {
    const [one, other] = reason.tells;
    sentences.push(
      say(knowledge, words, 'ask.why.tells', {
        one: faultName(knowledge, words, one),
        other: faultName(knowledge, words, other),
      }),
    );
    sentences.push(say(knowledge, words, 'ask.why.cost', { minutes: Math.max(1, Math.round(reason.minutes)) }));
    if (reason.openAlready) sentences.push(say(knowledge, words, 'ask.why.open'));
  }
  return sentences.filter(Boolean).join(' ');
}

function choicesOf(knowledge: Knowledge, words: Words, q: Question): AskOut['choices'] {
  const notSure = { value: 'not-sure', label: say(knowledge, words, 'not-sure') };
  if (q.about === 'degrees')
    return [
      ...(['celsius', 'fahrenheit'] as const).map((value) => ({
        value,
        label: say(knowledge, words, `degrees.${value}`),
      })),
      notSure,
    ];
  if (q.about === 'danger' && doubtedIn(q).length > 1)
    return [
      ...doubtedIn(q).map((value) => ({ value, label: knowledge.hazards.get(value)?.name[words] ?? value })),
      { value: 'no', label: say(knowledge, words, 'hazard.doubt.none') },
      notSure,
    ];
  if (q.about) {
    const key = q.about === 'danger' ? 'hazard.doubt' : 'hazard.take-back';
    return [
      ...(['yes', 'no'] as const).map((value) => ({ value, label: say(knowledge, words, `${key}.${value}`) })),
      notSure,
    ];
  }
  if (q.reading) {
    const continuity = q.reading.endsWith('.continuity');
    return [
      ...(continuity
        ? ['closed', 'open'].map((value) => ({ value, label: say(knowledge, words, `page.expected.${value}`) }))
        : []),
      notSure,
    ];
  }
  const finding = knowledge.findings.get(q.finding ?? '');
  if (!finding) return [notSure];
  const values =
    q.kind === 'confirm' && q.value ? [q.value, ...finding.values.filter((v) => v !== q.value)] : finding.values;
  return [...values.map((value) => ({ value, label: labelOf(knowledge, words, finding.id, value) })), notSure];
}
