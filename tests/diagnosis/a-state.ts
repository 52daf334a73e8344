// A case as its state, written shortly: facts by finding (null: not sure), readings, what was asked.

import { newCase, type CaseState, type Fact, type Measured } from '../../src/case/state.js';

const AT = '2026-11-25T10:00:00Z';

export interface Known {
  readonly facts?: Readonly<Record<string, string | readonly string[] | null>>;
  readonly denied?: Readonly<Record<string, readonly string[]>>;
  readonly readings?: readonly string[];
  readonly unmeasurable?: readonly string[];
  readonly asked?: Readonly<Record<string, number>>;
  readonly confidence?: number;
}

export function known({
  facts = {},
  denied = {},
  readings = [],
  unmeasurable = [],
  asked = {},
  confidence = 1,
}: Known): CaseState {
  const fact = (values: readonly string[], ruledOut: readonly string[], notSure: boolean): Fact => ({
    values,
    denied: ruledOut,
    notSure,
    confidence,
    from: 'answer',
    at: AT,
    by: 'u1',
  });
  return {
    ...newCase(AT, 'technician'),
    asked,
    unmeasurable,
    facts: {
      ...Object.fromEntries(Object.entries(denied).map(([id, values]) => [id, fact([], values, false)])),
      ...Object.fromEntries(
        Object.entries(facts).map(([id, v]) => [id, fact(v === null ? [] : [v].flat(), [], v === null)]),
      ),
    },
    readings: readings.map((id): Measured => {
      const [part = '', quantity = ''] = id.split('.');
      return {
        part,
        quantity: quantity as Measured['quantity'],
        value: 1,
        unit: null,
        atC: null,
        atAssumed: false,
        settledMinutes: null,
        sheet: null,
        rating: null,
        curve: null,
        at: AT,
        by: 'u1',
      };
    }),
  };
}
