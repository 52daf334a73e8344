// Any event that the schema allows, made from the schema itself: a new kind of event is made here without a change.

import * as fc from 'fast-check';
import type { z } from 'zod';
import { caseEvent, type CaseEvent } from '../../src/case/events.js';

/** What a key holds where any text would do, so that events speak of the same things. */
const POOLS: Readonly<Record<string, fc.Arbitrary<string>>> = {
  at: fc.integer({ min: 0, max: 4e12 }).map((ms) => new Date(ms).toISOString()),
  by: fc.constantFrom('u1', 'u2'),
  // what was said and what was ruled out in one message are never the same
  values: fc.constantFrom('a', 'b', 'c'),
  denied: fc.constantFrom('d', 'e'),
  part: fc.constantFrom('room', 'freezer'),
};
const names = fc.constantFrom('frost.kind', 'unit.power', 'defrost-heater.resistance');

/** Any value of a schema, as far as events use schemas. */
function anyOf(schema: z.core.$ZodType, key: string): fc.Arbitrary<unknown> {
  const def = (schema as z.ZodType).def as unknown as {
    type: string;
    shape: Record<string, z.ZodType>;
    values: unknown[];
    entries: Record<string, string>;
    options: z.ZodType[];
    items: z.ZodType[];
    element: z.ZodType;
    innerType: z.ZodType;
  };
  switch (def.type) {
    case 'object':
      return fc.record(Object.fromEntries(Object.entries(def.shape).map(([k, inner]) => [k, anyOf(inner, k)])));
    case 'literal':
      return fc.constantFrom(...def.values);
    case 'enum':
      return fc.constantFrom(...Object.values(def.entries));
    case 'union':
      return fc.oneof(...def.options.map((option) => anyOf(option, key)));
    case 'tuple':
      return fc.tuple(...def.items.map((item) => anyOf(item, key)));
    case 'array':
      return fc.uniqueArray(anyOf(def.element, key), { maxLength: 3 });
    case 'nullable':
      return fc.option(anyOf(def.innerType, key));
    case 'optional':
      return fc.option(anyOf(def.innerType, key), { nil: undefined });
    case 'string':
      return POOLS[key] ?? names;
    case 'number':
      return fc.double({ noNaN: true, min: -300, max: 1e6 });
    case 'boolean':
      return fc.boolean();
    default:
      throw new Error(`events use a kind of schema that is not made here: ${def.type}`);
  }
}

/** One of every type, all as likely. */
export const anyEvent = fc.oneof(...caseEvent.options.map((option) => anyOf(option, ''))) as fc.Arbitrary<CaseEvent>;
