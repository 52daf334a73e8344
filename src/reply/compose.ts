/** The whole reply of one turn: paragraphs in the order a person needs them, the question last. */
import { stepsAt, wordsFor, type Knowledge, type Words } from '../knowledge/facts.js';
import type { Conclusion, EscalationKind } from '../message/outgoing.js';
import type { Measurement } from '../case/events.js';
import type { Judged } from '../readings/judge.js';
import { factInWords, faultName, labelOf, measuredInWords, nameOf } from './names.js';
import { bulleted, list, numbered, percent, say } from './say.js';
import { conclusionParagraphs } from './conclusion.js';

/** One thing to say. What it is was decided before; here it gets its words. */
export type Part =
  | { readonly say: 'text'; readonly key: string; readonly slots?: Readonly<Record<string, string | number>> }
  | { readonly say: 'note'; readonly text: string }
  | {
      readonly say: 'hazard';
      readonly hazard: string;
      readonly level: 'stop' | 'caution';
      readonly asked: boolean;
      /** `first`: said in full before, so only its first steps again; `not`: beside a stop a caution sends nobody to do a thing */
      readonly told: 'all' | 'first' | 'not';
    }
  | {
      readonly say: 'facts';
      readonly facts: readonly {
        readonly finding: string;
        readonly values: readonly string[];
        readonly denied: readonly string[];
      }[];
    }
  | { readonly say: 'changed'; readonly finding: string; readonly was: string; readonly now: string | null }
  | { readonly say: 'reading'; readonly judged: Judged }
  | { readonly say: 'topic'; readonly topic: string }
  | { readonly say: 'how'; readonly lines: readonly string[] }
  | {
      readonly say: 'known';
      readonly facts: readonly {
        readonly finding: string;
        readonly values: readonly string[];
        readonly denied: readonly string[];
      }[];
      readonly causes: readonly { readonly fault: string; readonly probability: number }[];
    }
  | { readonly say: 'conclusion'; readonly conclusion: Conclusion; readonly second: string | null }
  | {
      readonly say: 'hand-over';
      readonly kind: EscalationKind;
      readonly code: string;
      readonly path: string | null;
      readonly contact: string | null;
      readonly food: boolean;
    }
  | { readonly say: 'warning'; readonly key: string }
  | { readonly say: 'question'; readonly text: string; readonly how: readonly string[] };

export interface Reader {
  readonly role: 'homeowner' | 'technician' | 'senior';
  readonly units: 'us' | 'si';
}

export function composeReply(knowledge: Knowledge, reader: Reader, parts: readonly Part[]): string {
  const words = wordsFor(reader.role);
  const paragraphs = parts.flatMap((part) => paragraphsOf(knowledge, words, reader.units, part));
  return paragraphs.filter((p, i) => p !== '' && paragraphs.indexOf(p) === i).join('\n\n');
}

function paragraphsOf(knowledge: Knowledge, words: Words, units: 'us' | 'si', part: Part): string[] {
  const t = (key: string, slots: Readonly<Record<string, string | number>> = {}): string =>
    say(knowledge, words, key, slots);
  switch (part.say) {
    case 'text':
    case 'warning':
      return [t(part.key, part.say === 'text' ? part.slots : {})];
    case 'note':
      return [part.text];
    case 'hazard': {
      const hazard = knowledge.hazards.get(part.hazard);
      if (!hazard) return [];
      const lead = t(part.level === 'stop' ? 'hazard.lead' : 'hazard.caution', { name: hazard.name[words] });
      const not = hazard.not[words].map((text) => t('hazard.not', { text }));
      const steps = stepsAt(hazard, part.level, words);
      if (part.told === 'not') return [[lead, ...not].join('\n')];
      if (part.told === 'first')
        return [`${lead}\n${numbered(knowledge, words, steps.slice(0, BRIEF))}`, not.join('\n'), t('hazard.rest')];
      return [
        `${lead}\n${numbered(knowledge, words, steps)}`,
        ...(not.length && part.level === 'stop' ? [not.join('\n')] : []),
      ];
    }
    case 'facts': {
      const items = part.facts.map((f) => factInWords(knowledge, words, f.finding, { ...f, notSure: false }));
      return items.length ? [t('echo', { list: list(knowledge, words, items, 'list.items') })] : [];
    }
    case 'changed': {
      const name = nameOf(knowledge, words, part.finding);
      if (part.now === null) return [t('echo.withdrawn', { name })];
      return [
        t('echo.replaced', {
          name,
          was: labelOf(knowledge, words, part.finding, part.was),
          value: labelOf(knowledge, words, part.finding, part.now),
        }),
      ];
    }
    case 'reading': {
      const { measured, verdict, why } = part.judged;
      const name = nameOf(knowledge, words, part.judged.step);
      return [
        t('reading', {
          part: name,
          value: measuredInWords(knowledge, words, measured, units),
          verdict: t(`verdict.${verdict}`),
          why,
        }),
      ];
    }
    case 'topic':
      return [knowledge.topics.get(part.topic)?.answer[words].join(' ') ?? ''];
    case 'how':
      return part.lines.length ? [`${t('how.lead')}\n${numbered(knowledge, words, part.lines)}`] : [t('how.nothing')];
    case 'known': {
      if (part.facts.length === 0) return [t('known.nothing')];
      const items = part.facts.map((f) => factInWords(knowledge, words, f.finding, { ...f, notSure: false }));
      const causes = part.causes.map((c) =>
        t('known.cause', { cause: faultName(knowledge, words, c.fault), percent: percent(c.probability) }),
      );
      return [
        t('known.lead', { list: list(knowledge, words, items, 'list.items') }),
        t('known.causes', { list: list(knowledge, words, causes) }),
      ];
    }
    case 'conclusion': {
      const out = conclusionParagraphs(knowledge, words, part.conclusion);
      if (part.second) out.push(t('conclude.pair', { name: faultName(knowledge, words, part.second) }));
      return out;
    }
    case 'hand-over':
      return handOver(t, part);
    case 'question':
      return part.how.length ? [`${part.text}\n${bulleted(knowledge, words, part.how)}`] : [part.text];
  }
}

/** How many of a hazard's steps are said again while it stands. */
const BRIEF = 2;

function handOver(
  t: (key: string, slots?: Readonly<Record<string, string | number>>) => string,
  part: Extract<Part, { say: 'hand-over' }>,
): string[] {
  const out = [t(`handover.${part.kind}`, { code: part.code })];
  if (part.food) out.push(t('handover.food'));
  out.push(part.path ? t('handover.page', { path: part.path }) : t('handover.desk'));
  if (part.contact) out.push(t('handover.contact', { contact: part.contact }));
  else if (part.path) out.push(t('handover.nobody'));
  return out;
}

/** A reading just taken, found again among the judged ones. */
export const judgedOf = (judged: readonly Judged[], m: Measurement): Judged | undefined =>
  judged.find(
    (j) =>
      j.measured.part === m.part &&
      j.measured.quantity === m.quantity &&
      j.measured.value === m.value &&
      j.measured.atC === m.atC,
  );
