/** Findings and readings as one list of places where a check can look. */
import type { Files } from '../load.js';
import type { z } from 'zod';
import type * as schema from '../schema.js';

export interface StepPlace {
  readonly id: string;
  readonly file: string;
  readonly values: readonly string[];
  readonly many: boolean;
  readonly healthy: string | undefined;
  readonly likelihood: z.output<typeof schema.likelihood> | undefined;
  readonly needs: schema.Needs;
  readonly applies: schema.Conditions;
  readonly line: (path: readonly PropertyKey[]) => number;
}

export function stepPlaces(files: Files): StepPlace[] {
  const findings = files.findings.map(({ file, data, line }): StepPlace => ({
    ...data,
    file,
    line,
    healthy: data.healthy,
    likelihood: data.likelihood,
  }));
  const readings = files.readings.flatMap(({ file, data, line }) =>
    Object.entries(data.quantities).map(([quantity, q]): StepPlace => ({
      id: `${data.part}.${quantity}`,
      file,
      values: q.states,
      many: false,
      healthy: q.healthy,
      likelihood: q.likelihood,
      needs: q.needs,
      applies: q.applies,
      line: (path) => line(['quantities', quantity, ...path]),
    })),
  );
  return [...findings, ...readings];
}
