// The identifiers that the knowledge folder, the JSON-lines channel and front ends agree on: nothing missing, nothing
// renamed. The agreed list stands beside the project; where it is absent, these tests are skipped.

import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { role } from '../../src/message/incoming.js';
import { action, escalationKind, level, status, urgency, verdict } from '../../src/message/outgoing.js';
import { realKnowledge } from '../support/knowledge.js';

const FILE = new URL('../../../shared/vocabulary.yaml', import.meta.url);
const present = existsSync(FILE);

interface Vocabulary {
  readonly layouts: string[];
  readonly 'defrost-controls': string[];
  readonly roles: string[];
  readonly faults: Record<string, { system: string; licensed?: boolean }>;
  readonly findings: Record<string, { values: string[] | string; many?: boolean }>;
  readonly readings: Record<string, string[]>;
  readonly hazards: Record<string, { level: string }>;
  readonly 'reading-verdicts': string[];
  readonly 'case-status': string[];
  readonly 'conclusion-actions': string[];
  readonly 'escalation-kinds': string[];
  readonly 'escalation-urgency': string[];
}

const sorted = (names: Iterable<string>): string[] => [...names].sort();

describe.skipIf(!present)(
  `the shared vocabulary${present ? '' : ' (skipped: ../shared/vocabulary.yaml is absent)'}`,
  () => {
    const agreed = (present ? parse(readFileSync(FILE, 'utf8'), { version: '1.2' }) : {}) as Vocabulary;
    const knowledge = realKnowledge();
    const valuesOf = (values: string[] | string): string[] =>
      Array.isArray(values) ? values : ((agreed as unknown as Record<string, string[]>)[values] ?? []);

    test('names every fault, with its system and licence', () => {
      const ours = [...knowledge.faults.values()].map((f) => [f.id, f.system, f.licensed]);
      const theirs = Object.entries(agreed.faults).map(([id, f]) => [id, f.system, f.licensed ?? false]);
      expect(sorted(ours.map(String))).toEqual(sorted(theirs.map(String)));
      expect(sorted(knowledge.systems.keys())).toEqual(
        sorted(new Set(Object.values(agreed.faults).map((f) => f.system))),
      );
    });

    test('something-else is ranked and never concluded', () => {
      expect([...knowledge.faults.values()].filter((f) => !f.concludable).map((f) => f.id)).toEqual(['something-else']);
    });

    test('names every finding, its values, and whether several may hold', () => {
      for (const [id, { values, many }] of Object.entries(agreed.findings)) {
        const ours = knowledge.findings.get(id);
        expect({ id, values: sorted(ours?.values ?? []), many: ours?.many }).toEqual({
          id,
          values: sorted(valuesOf(values)),
          many: many ?? false,
        });
      }
      expect(sorted(knowledge.findings.keys())).toEqual(sorted(Object.keys(agreed.findings)));
    });

    test('names every part and the quantities it is measured in', () => {
      const ours = Object.fromEntries([...knowledge.parts].map(([id, part]) => [id, sorted(part.quantities)]));
      const theirs = Object.fromEntries(Object.entries(agreed.readings).map(([id, q]) => [id, sorted(q)]));
      expect(ours).toEqual(theirs);
    });

    test('names every hazard and its level', () => {
      const ours = Object.fromEntries([...knowledge.hazards].map(([id, h]) => [id, h.level]));
      expect(ours).toEqual(Object.fromEntries(Object.entries(agreed.hazards).map(([id, h]) => [id, h.level])));
    });

    test.each([
      ['roles', role],
      ['reading-verdicts', verdict],
      ['case-status', status],
      ['conclusion-actions', action],
      ['escalation-kinds', escalationKind],
      ['escalation-urgency', urgency],
    ] as const)('%s', (key, known) => {
      expect(sorted(known.options)).toEqual(sorted(agreed[key]));
    });

    test('hazard levels', () => {
      expect(sorted(level.options)).toEqual(sorted(new Set(Object.values(agreed.hazards).map((h) => h.level))));
    });
  },
);
