// One case into its outcome: from the first message to the end, through the whole program.

import { describe, expect, test } from 'vitest';
import type { CaseEvent } from '../../src/case/events.js';
import { outcomeOf, type Outcome } from '../../src/outcomes/outcome.js';
import { sentOf } from '../../src/outcomes/sent.js';
import { adviseThaw, desk, knowledge, type Desk } from '../desk/a-desk.js';

const outcome = (d: Desk): Outcome | null => outcomeOf(d.caseId(), d.store.events(d.caseId()));

test('given a case that goes on, then there is none', () => {
  const d = desk();
  d.says('there is frost in the freezer');
  expect(outcome(d)).toBeNull();
  expect(outcomeOf('x', [])).toBeNull();
});

describe('given advice that helped', () => {
  const d = desk();
  d.answers('unit.layout', 'top-freezer');
  const { conclusion, ranking } = adviseThaw(d);
  d.later(48);
  d.answers('repair.result', 'fixed');
  const end = outcome(d);

  test('then its cause is the one whose remedy helped, and the chances are those of the conclusion', () => {
    expect(conclusion).not.toBeNull();
    expect(end).toMatchObject({
      invented: false,
      closedAs: 'fixed',
      words: 'homeowner',
      layout: 'top-freezer',
      control: null,
      cause: conclusion?.fault,
      concluded: conclusion?.fault,
      escalation: null,
      hazards: [],
    });
    expect(end?.ranking?.[0]?.fault).toBe(ranking[0]?.fault);
    expect(end?.ranking?.[0]?.probability).toBeCloseTo(ranking[0]?.probability ?? NaN, 5);
  });

  test('then the days and the questions are counted', () => {
    expect(Date.parse(end?.closedAt ?? '') - Date.parse(end?.openedAt ?? '')).toBe(48 * 3_600_000);
    expect(end?.questions).toBeGreaterThanOrEqual(1);
  });

  test('then nobody was sent, and nobody was needed', () => {
    expect(end && sentOf(knowledge, end)).toEqual({ given: 'nobody', needed: 'nobody', verdict: 'right' });
  });
});

describe('given the desk closed it', () => {
  const closed = (cause: string, opening: string): Outcome | null => {
    const d = desk();
    d.answers('unit.layout', 'side-by-side');
    d.says(opening);
    d.acts({ act: 'claim' });
    for (const { hazard } of d.store.load(d.caseId())?.hazards ?? []) d.acts({ act: 'clear', hazard });
    d.acts({ act: 'close', cause, fixed: null, parts: null });
    return outcome(d);
  };

  test('then its cause is what the desk found', () => {
    expect(closed('gasket-failed', 'a person please')).toMatchObject({
      closedAs: 'desk',
      cause: 'gasket-failed',
      escalation: { kind: 'asked-for-person' },
      concluded: null,
    });
  });

  test('then a danger is no judgement of the cause', () => {
    const end = closed('drain-iced', 'there is a burning smell');
    expect(end).toMatchObject({ escalation: { kind: 'hazard' }, ranking: null });
    expect(end?.hazards).toEqual([{ hazard: 'burning-smell', level: 'stop', takenBack: false }]);
    expect(end && sentOf(knowledge, end)).toBeNull();
  });
});

test('given a danger that was taken back, then it counts as that', () => {
  const at = '2026-11-25T10:00:00Z';
  const by = 'u1';
  const events: CaseEvent[] = [
    { type: 'opened', at, by, role: 'technician' },
    { type: 'hazard-raised', at, by, hazard: 'gas-smell', level: 'stop', silent: false },
    { type: 'escalated', at, id: 'e1', kind: 'hazard', urgency: 'now' },
    { type: 'believed', at, ranking: [{ fault: 'drain-iced', probability: 1 }] },
    { type: 'hazard-cleared', at, by, hazard: 'gas-smell', how: 'taken-back' },
    { type: 'closed', at, by: '', why: 'unanswered' },
  ];
  expect(outcomeOf('x', events)).toMatchObject({
    words: 'technician',
    closedAs: 'unanswered',
    cause: null,
    ranking: null,
    hazards: [{ takenBack: true }],
  });
});

describe('who was sent, against who was needed', () => {
  const base: Outcome = {
    id: 'x',
    invented: true,
    openedAt: '',
    closedAt: '',
    closedAs: 'desk',
    words: 'homeowner',
    layout: null,
    control: null,
    cause: null,
    concluded: null,
    ranking: null,
    questions: 0,
    escalation: null,
    hazards: [],
  };
  const visit = { kind: 'visit', urgency: 'today' } as const;
  const sealed = { kind: 'sealed-system', urgency: 'today' } as const;

  test.each([
    ['gasket-dirty', visit, 'over'],
    ['gasket-dirty', null, 'right'],
    ['defrost-heater-open', null, 'under'],
    ['defrost-heater-open', visit, 'right'],
    ['defrost-heater-open', sealed, 'over'],
    ['sealed-undercharge', visit, 'under'],
    ['sealed-undercharge', sealed, 'right'],
  ] as const)('%s with %o is %s', (cause, escalation, verdict) => {
    expect(sentOf(knowledge, { ...base, cause, escalation })?.verdict).toBe(verdict);
  });

  test.each(['something-else', 'not-found', null])('a cause of %s judges nobody', (cause) => {
    expect(sentOf(knowledge, { ...base, cause, escalation: visit })).toBeNull();
  });
});
