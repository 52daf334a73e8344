// What holds in every talk, whatever is answered.

import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { caseEvent, type CaseEvent } from '../../src/case/events.js';
import { fold, newCase } from '../../src/case/state.js';
import type { Role, Step } from '../../src/knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../../src/knowledge/named.js';
import { lineOut, type Answer } from '../../src/message/outgoing.js';
import { AT, knowledge, talk } from './a-talk.js';
import { runs, tried } from '../support/runs.js';
import { walk } from './random-talk.js';

const stepAsked = ({ ask }: Answer): Step | undefined => knowledge.steps.get(ask?.finding ?? ask?.reading ?? '');

/** Twice as many questions as any talk has needed, each of them a repair that failed in the worst case. */
const MOST = 120;
const talks = fc
  .sample(fc.array(fc.nat(1000), { minLength: MOST, maxLength: MOST }), runs(24))
  .map((picks, i) => walk((['homeowner', 'technician', 'senior'] as const)[i % 3] ?? 'homeowner', picks));
const each = (check: (answer: Answer, role: Role) => void): void => {
  for (const { answers, role } of talks) for (const answer of answers) check(answer, role);
};

describe('a talk of random answers', () => {
  test('comes to an end', () => {
    expect(talks.filter((t) => !t.ended).map((t) => t.answers.length)).toEqual([]);
    expect(Math.max(...talks.map((t) => t.answers.length))).toBeLessThan(MOST);
  });

  test('is settled, by advice or by a person, within the questions there may be', () => {
    // the rating plate may be asked once more before parts are named
    const most = knowledge.costs.mostQuestions + 1;
    for (const { answers } of talks) {
      const settled = answers.findIndex((a) => a.conclusion !== null || a.escalation !== null);
      const asked = answers.slice(0, settled).filter((a) => a.ask?.kind !== 'confirm').length;
      expect(settled).toBeGreaterThan(0);
      expect(asked).toBeLessThanOrEqual(most);
    }
    tried(
      'messages in talks of random answers',
      talks.reduce((n, t) => n + t.answers.length, 0),
    );
  });

  test('ends closed, or with a person: never in silence', () => {
    for (const { answers } of talks) expect(['closed', 'escalated']).toContain(answers.at(-1)?.status);
  });

  test('has in each answer a ranking of all faults that sums to one', () => {
    each(({ ranking }) => {
      expect(ranking.map((r) => r.fault).sort()).toEqual([...knowledge.faultIds].sort());
      expect(Math.abs(ranking.reduce((s, r) => s + r.probability, 0) - 1)).toBeLessThan(1e-6);
      ranking.forEach((r, i) => expect(r.probability).toBeLessThanOrEqual(ranking[i - 1]?.probability ?? 1));
    });
  });

  test('has in each answer all keys of the contract, and no other', () => {
    each((answer) => {
      const read = lineOut.safeParse(answer);
      expect(read.error?.issues ?? []).toEqual([]);
    });
  });

  test('asks one thing at a time, with "not sure" as the last choice, and says it at the end of the reply', () => {
    each(({ ask, reply }) => {
      if (!ask) return;
      expect(ask.finding === null || ask.reading === null).toBe(true);
      expect(ask.choices.at(-1)?.value).toBe('not-sure');
      expect(new Set(ask.choices.map((c) => c.value)).size).toBe(ask.choices.length);
      expect(reply.split('\n\n').at(-1)).toContain(ask.text);
      expect(ask.why).not.toBe('');
    });
  });

  test('has the status that its escalation and conclusion give it', () => {
    each(({ status, escalation, conclusion, ask }) => {
      if (status === 'escalated') expect(escalation).not.toBeNull();
      if (status === 'advised') expect(conclusion).not.toBeNull();
      if (status === 'open') expect(conclusion).toBeNull();
      if (conclusion && status !== 'closed') expect(ask?.finding).toBe(F.result);
    });
  });

  test('never asks a homeowner for a live test, nor for what the power or the cold forbids', () => {
    each((answer, role) => {
      if (role === 'homeowner') expect(stepAsked(answer)?.needs.skill).not.toBe('live');
    });
  });

  test('can be told from its events alone: they are valid, and fold to the state that was kept', () => {
    for (const { talk: t, role } of talks) {
      for (const event of t.events()) expect(caseEvent.safeParse(event).success, JSON.stringify(event)).toBe(true);
      expect(fold(newCase(AT, role), t.events())).toEqual(t.state());
      expect(fold(newCase(AT, 'homeowner'), JSON.parse(JSON.stringify(t.events())) as CaseEvent[])).toEqual(t.state());
    }
  });
});

describe('a homeowner', () => {
  const findings = [...knowledge.findings.values()];
  const found = fc.uniqueArray(
    fc
      .constantFrom(...findings)
      .chain((f) => fc.record({ finding: fc.constant(f.id), value: fc.constantFrom(...f.values, 'not-sure') })),
    { maxLength: 25, selector: (x) => x.finding, size: 'max' },
  );
  const trusted = [
    { finding: F.canMeasure, value: 'yes' },
    { finding: F.liveWork, value: 'yes' },
    { finding: F.warranty, value: 'no' },
    { finding: F.power, value: 'off' },
    { finding: F.thawed, value: 'no' },
  ];
  const eventsOf = (facts: readonly { finding: string; value: string }[]): CaseEvent[] => [
    { type: 'opened', at: AT, by: 'u1', role: 'homeowner' },
    ...facts.map(({ finding, value }): CaseEvent => ({
      type: 'found',
      at: AT,
      by: 'u1',
      finding,
      values: value === 'not-sure' ? [] : [value],
      denied: [],
      notSure: value === 'not-sure',
      confidence: 1,
      from: 'answer',
      replace: true,
    })),
  ];

  // Even one who says that live tests are fine, that they can measure and that nothing is under warranty.
  test('never gets a live test, whatever was answered', () => {
    let asked = 0;
    fc.assert(
      fc.property(found, fc.boolean(), (facts, isTrusted) => {
        const given = isTrusted
          ? [...facts.filter((f) => !trusted.some((t) => t.finding === f.finding)), ...trusted]
          : facts;
        const answer = talk('homeowner', eventsOf(given)).says('go on please');
        const step = stepAsked(answer);
        if (step) asked += 1;
        expect(step?.needs.skill, `${step?.id}`).not.toBe('live');
        if (step && ['panel', 'meter'].includes(step.needs.skill)) {
          const value = (id: string): string | undefined => given.find((f) => f.finding === id)?.value;
          expect(value(F.canMeasure)).toBe('yes');
          expect(value(F.warranty)).not.toBe('yes');
          if (step.needs.cold) expect(value(F.thawed)).not.toBe('under-a-day');
        }
      }),
      { numRuns: 300, seed: 7 },
    );
    expect(asked).toBeGreaterThan(50);
  }, 60_000);
});

test('the same message twice over gives the same turn: nothing is left to chance', () => {
  const once = (): unknown[] => {
    const t = talk();
    const first = t.says('there is frost in the freezer');
    return [first, t.answers(first.ask?.finding ?? '', first.ask?.choices[0]?.value ?? ''), t.events()];
  };
  expect(once()).toEqual(once());
});

describe('any text', () => {
  const words = fc.constantFrom(
    ...'frost ice on the back wall floor not no yes 1 2 3 first last sorry actually why how back start over false alarm it is fixed 5.4 kohm 73 F -18 C ohms at smoke gas smell shock person human constructor __proto__ not-sure ? . , ! the door does close'.split(
      ' ',
    ),
  );
  const text = fc.oneof(
    { weight: 3, arbitrary: fc.array(words, { minLength: 1, maxLength: 25 }).map((w) => w.join(' ')) },
    { weight: 1, arbitrary: fc.string({ unit: 'binary', minLength: 1, maxLength: 200 }) },
  );

  test('gets an answer of the contract, and what was understood stands in the message', () => {
    fc.assert(
      fc.property(
        fc.array(text, { minLength: 1, maxLength: 4 }),
        fc.constantFrom<Role>('homeowner', 'technician'),
        (texts, role) => {
          const t = talk(role);
          for (const said of texts) {
            const answer = t.says(said);
            expect(lineOut.safeParse(answer).success).toBe(true);
            for (const u of answer.understood) if (u.span !== null) expect(said).toContain(u.span);
          }
          expect(fold(newCase(AT, role), t.events())).toEqual(t.state());
        },
      ),
      { numRuns: 100 },
    );
  }, 60_000);
});
