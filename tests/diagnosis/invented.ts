// A small knowledge of its own, as far as diagnosis looks at it: faults with shares, steps with tables.

import type { Costs, Fault, Knowledge, Step, Witness } from '../../src/knowledge/facts.js';

interface SmallFault {
  readonly id: string;
  /** percent of calls */
  readonly share: number;
  /** never joined with another fault */
  readonly alone?: boolean;
}

export interface SmallStep {
  readonly id: string;
  readonly values: readonly string[];
  readonly base: readonly number[];
  /** one row a fault, in the order of the faults; the base where it is left out */
  readonly rows: readonly (readonly number[] | null)[];
  readonly kind?: Step['kind'];
  readonly many?: boolean;
  readonly healthy?: string;
}

export interface Small {
  readonly faults: readonly SmallFault[];
  readonly steps: readonly SmallStep[];
  readonly witnesses?: Readonly<Record<string, readonly Witness[]>>;
  readonly costs?: Partial<Pick<Costs, 'pairs' | 'repeatedWitness' | 'repairWorks'>>;
}

export function invented({ faults, steps, witnesses = {}, costs = {} }: Small): Knowledge {
  const stepOf = ({
    id,
    values,
    base,
    rows,
    kind = 'symptom',
    many = false,
    healthy,
  }: SmallStep): [string, unknown] => [
    id,
    {
      id,
      about: 'finding',
      kind,
      values,
      many,
      healthy: healthy === undefined ? -1 : values.indexOf(healthy),
      table: { base: Float64Array.from(base), rows: rows.map((row) => Float64Array.from(row ?? base)) },
    },
  ];
  return {
    faultIds: faults.map((f) => f.id),
    faults: new Map(
      faults.map((f) => [
        f.id,
        { id: f.id, share: { value: f.share }, concludable: f.alone !== true } as unknown as Fault,
      ]),
    ),
    findings: new Map(steps.map(stepOf)),
    steps: new Map(steps.map(stepOf)),
    witnesses: new Map(Object.entries(witnesses)),
    costs: { pairs: 1, repeatedWitness: 0.2, repairWorks: 0.9, ...costs },
  } as unknown as Knowledge;
}
