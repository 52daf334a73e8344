/**
 * A case into the escalation summary (SBAR: situation, background, assessment, recommendation) and its page. It
 * gathers what the case knows; it neither diagnoses nor decides who gets it.
 */
import type { CaseState } from '../case/state.js';
import { valueOf } from '../case/look.js';
import { wordsFor, type Knowledge, type Step } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import type { Escalation } from '../message/outgoing.js';
import { factInWords, faultName, labelOf, measuredInWords, nameOf } from '../reply/names.js';
import { list, percent, say } from '../reply/say.js';
import type { Observation } from '../diagnosis/evidence.js';
import type { Ranked } from '../diagnosis/belief.js';
import type { Conflict } from '../diagnosis/explain.js';
import { toOut, type Judged } from '../readings/judge.js';
import { leading, LIKELY, siteWork, toBring } from './site-work.js';

const WORDS = 'technician';
const MOST_NOT_CHECKED = 6;

export interface Gathered {
  readonly caseId: string;
  readonly ranking: readonly Ranked[];
  readonly pairs: readonly { readonly faults: readonly string[]; readonly probability: number }[];
  readonly judged: readonly Judged[];
  readonly ruledOut: readonly { readonly fault: string; readonly because: Observation }[];
  readonly conflicts: readonly Conflict[];
  /** what would have been asked next, the most telling first */
  readonly notChecked: readonly Step[];
}

export function escalationOf(knowledge: Knowledge, state: CaseState, g: Gathered): Escalation | null {
  const open = state.escalation;
  if (!open) return null;
  const hazards = state.hazards.filter((h) => !h.cleared).map(({ hazard, level, at }) => ({ hazard, level, at }));
  const work = siteWork(knowledge, hazards, g.ranking);
  const units = state.units ?? 'us';
  return {
    id: open.id,
    caseId: g.caseId,
    createdAt: open.createdAt,
    kind: open.kind,
    urgency: open.urgency,
    state: open.state,
    // one who was erased has no name
    claimedBy: open.claimedBy || null,
    situation: situationOf(knowledge, state, hazards, leading(knowledge, g.ranking)),
    safety: {
      hazards,
      powerOff: stateOf(valueOf(state, F.power), ['off'], ['on']),
      waterOff: stateOf(valueOf(state, F.water), ['off', 'not-connected'], ['on']),
      toldNotToDo: hazards.flatMap((h) => knowledge.hazards.get(h.hazard)?.not[wordsFor(state.role)] ?? []),
    },
    background: backgroundOf(knowledge, state, g.caseId),
    assessment: {
      ranking: g.ranking.slice(0, 5).map((r) => ({ ...r })),
      pairs: g.pairs.map((p) => ({ faults: [...p.faults], probability: p.probability })),
      readings: g.judged.map(toOut),
      ruledOut: g.ruledOut.map(({ fault, because }) => ({
        fault,
        because: observationInWords(knowledge, state, because, units),
      })),
      notChecked: notMeasuredYet(g)
        .slice(0, MOST_NOT_CHECKED)
        .map((s) => ({
          finding: s.about === 'finding' ? s.id : null,
          reading: s.about === 'reading' ? s.id : null,
          text: s.ask[WORDS].question,
        })),
      conflicts: g.conflicts.map((c) => {
        const [one, other] = [c.one, c.other].map((o) => (o ? observationInWords(knowledge, state, o, units) : ''));
        return {
          between: [c.one.step, ...(c.other ? [c.other.step] : [])],
          text: say(knowledge, WORDS, 'page.conflict', { one: one ?? '', other: other ?? '' }),
        };
      }),
    },
    recommendation: {
      why: say(knowledge, WORDS, `page.why.${open.kind}`),
      firstChecks: [...(work.danger?.firstChecks ?? []), ...(work.cause?.job.firstChecks ?? [])],
      bring: toBring(work),
      skill: (work.danger ?? work.cause?.job)?.skill ?? say(knowledge, WORDS, 'page.skill.none'),
    },
    transcript: `thawline export ${g.caseId}`,
  };
}

/** A part whose ohms are known needs no continuity test, nor the other way round. */
function notMeasuredYet({ notChecked, judged }: Gathered): readonly Step[] {
  const PASSES: readonly string[] = ['continuity', 'resistance'];
  const known = new Set(
    judged
      .filter((j) => j.verdict !== 'inconclusive' && PASSES.includes(j.measured.quantity))
      .map((j) => j.measured.part),
  );
  return notChecked.filter(({ id }) => {
    const [part = '', quantity = ''] = id.split('.');
    return !(PASSES.includes(quantity) && known.has(part));
  });
}

const stateOf = (value: string | null, yes: readonly string[], no: readonly string[]): 'yes' | 'no' | 'unknown' =>
  value !== null && yes.includes(value) ? 'yes' : value !== null && no.includes(value) ? 'no' : 'unknown';

function situationOf(
  knowledge: Knowledge,
  state: CaseState,
  hazards: readonly { hazard: string; level: string }[],
  top: Ranked | undefined,
): string {
  const what = whatIsTold(knowledge, state);
  const stops = hazards
    .filter((h) => h.level === 'stop')
    .map((h) => knowledge.hazards.get(h.hazard)?.name[WORDS] ?? h.hazard);
  const cause = top ? faultName(knowledge, WORDS, top.fault) : '';
  const probability = top?.probability ?? 0;
  const slots = { hazards: list(knowledge, WORDS, stops), what, cause, percent: percent(probability) };
  const likely = probability >= LIKELY;
  const key = stops.length > 0 ? (likely ? 'hazard-and-cause' : 'hazard') : likely ? 'cause' : 'unknown';
  return say(knowledge, WORDS, `page.situation.${key}`, slots);
}

/** Where the frost is, how cold it is, since when: what was told of it, and nothing of what was not. */
function whatIsTold(knowledge: Knowledge, state: CaseState): string {
  const told = (finding: string): string | null => {
    const fact = state.facts[finding];
    if (!fact || fact.notSure || fact.values.length === 0) return null;
    const values = fact.values.map((v) => labelOf(knowledge, WORDS, finding, v));
    return list(knowledge, WORDS, values);
  };
  const items = {
    frost: told(F.frostPlace) ?? told(F.pattern),
    freezer: told(F.freezer),
    fresh: told(F.freshFood),
    since: told(F.onset),
  };
  const known = Object.entries(items).filter(([, value]) => value !== null);
  if (known.length === 0) return say(knowledge, WORDS, 'page.what.nothing');
  return known.map(([key, value]) => say(knowledge, WORDS, `page.what.${key}`, { value: value ?? '' })).join(' ');
}

function backgroundOf(knowledge: Knowledge, state: CaseState, caseId: string): Escalation['background'] {
  const known = (test: (finding: string) => boolean): string | null => {
    const items = Object.entries(state.facts)
      .filter(([finding, fact]) => test(finding) && !fact.notSure && fact.values.length > 0)
      .map(([finding, fact]) => factInWords(knowledge, WORDS, finding, fact));
    return items.length
      ? say(knowledge, WORDS, 'page.unit', { list: list(knowledge, WORDS, items, 'list.items') })
      : null;
  };
  const kind = (finding: string): string | undefined => knowledge.findings.get(finding)?.kind;
  const safety: readonly string[] = [F.power, F.water];
  const failed = state.failed.map((f) => remedyName(knowledge, f.remedy));
  const done = known((f) => kind(f) === 'act' && !safety.includes(f));
  return {
    unit: known((f) => f.startsWith('unit.') && kind(f) === 'context'),
    room: known((f) => f === F.room),
    history: known((f) => kind(f) === 'symptom'),
    done: failed.length
      ? [done ?? '', say(knowledge, WORDS, 'page.done', { list: list(knowledge, WORDS, failed) })]
          .filter(Boolean)
          .join(' ')
      : done,
    contact: say(knowledge, WORDS, 'page.contact', { code: caseId }),
  };
}

const remedyName = (knowledge: Knowledge, remedy: string): string => {
  for (const f of knowledge.faults.values())
    if (f.repair.homeowner.remedy === remedy || f.repair.technician.remedy === remedy) return f.name[WORDS];
  return remedy;
};

/** An observation as a short line: a finding's value, or a reading as it was taken. */
function observationInWords(knowledge: Knowledge, state: CaseState, o: Observation, units: 'us' | 'si'): string {
  const reading = knowledge.readings.get(o.step);
  if (reading) {
    const taken = state.readings.filter((r) => r.part === reading.part && r.quantity === reading.quantity).at(-1);
    const value = taken ? measuredInWords(knowledge, WORDS, taken, units) : '';
    return say(knowledge, WORDS, 'echo.item', { name: nameOf(knowledge, WORDS, o.step), value });
  }
  const value = o.value ?? '';
  return factInWords(knowledge, WORDS, o.step, {
    values: o.present ? [value] : [],
    denied: o.present ? [] : [value],
    notSure: false,
  });
}
