/** What the tales of many callers add up to: each policy's figures, ours against each, and how well chances were told. */
import { corp, reliability, type Block, type Split } from '../diagnosis/calibration.js';
import { leadOf, meanOf, type Mean } from './intervals.js';
import type { Group, Tale, Tales } from './tales.js';

interface PolicyFigures {
  readonly policy: string;
  readonly minutes: Mean;
  /** share of the callers */
  readonly rightFirst: Mean;
  readonly handedOver: Mean;
  readonly questions: Mean;
  readonly visits: Mean;
  readonly needlessVisits: Mean;
  readonly wrongParts: Mean;
  /** minutes that this one costs more than ours, on the same callers; how much less ours costs, as a share */
  readonly moreThanOurs: Mean;
  readonly ourLead: Mean;
}

export interface GroupFigures extends Group {
  readonly callers: number;
  readonly policies: readonly PolicyFigures[];
  /** of ours, when it first decides */
  readonly calibration: {
    readonly brier: Mean;
    readonly log: Mean;
    /** of the chance told for the first of the ranking */
    readonly split: Split | null;
    readonly curve: readonly Block[];
  };
  /** callers with a fault of the sealed circuit, with ours: to whom nobody came, who was first told to do something alone */
  readonly sealed: { readonly callers: number; readonly kept: number; readonly triedAlone: number };
  /** needless visits less than where everybody calls someone at once */
  readonly fewerNeedless: Mean;
}

export function tally(group: Group, { by, told }: Tales): GroupFigures {
  const of = (policy: string, figure: (t: Tale) => number): number[] => (by[policy] ?? []).map(figure);
  const mean = (policy: string, figure: (t: Tale) => number): Mean => meanOf(of(policy, figure));
  const minutes = (t: Tale): number => t.minutes;
  const ours = of('ours', minutes);
  const sealed = (by['ours'] ?? []).flatMap((t) => t.sealed ?? []);
  const first = told.map((t) => t.first);
  return {
    ...group,
    callers: ours.length,
    policies: Object.keys(by).map((policy) => ({
      policy,
      minutes: mean(policy, minutes),
      rightFirst: mean(policy, (t) => Number(t.right)),
      handedOver: mean(policy, (t) => Number(t.handedOver)),
      questions: mean(policy, (t) => t.questions),
      visits: mean(policy, (t) => t.visits),
      needlessVisits: mean(policy, (t) => t.needless),
      wrongParts: mean(policy, (t) => t.wrongParts),
      moreThanOurs: meanOf(of(policy, minutes).map((m, i) => m - ours[i]!)),
      ourLead: leadOf(ours, of(policy, minutes)),
    })),
    calibration: {
      brier: meanOf(told.map((t) => t.brier)),
      log: meanOf(told.map((t) => t.log)),
      split: corp(first),
      curve: reliability(first),
    },
    sealed: {
      callers: sealed.length,
      kept: sealed.filter((s) => s.kept).length,
      triedAlone: sealed.filter((s) => s.triedAlone).length,
    },
    fewerNeedless: leadOf(
      of('ours', (t) => t.needless),
      of('call-someone', (t) => t.needless),
    ),
  };
}

/** Tales of the same group, one stretch of callers after another. */
export function joined(parts: readonly Tales[]): Tales {
  const names = Object.keys(parts[0]?.by ?? {});
  return {
    by: Object.fromEntries(names.map((name) => [name, parts.flatMap((p) => p.by[name] ?? [])])),
    told: parts.flatMap((p) => p.told),
  };
}
