// A person who is asked for takes over at once; a case that is fixed is closed, and opened again when somebody writes.

import { describe, expect, test } from 'vitest';
import type { CaseEvent, Question } from '../../src/case/events.js';
import type { Step } from '../../src/knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../../src/knowledge/named.js';
import type { Answer } from '../../src/message/outgoing.js';
import { askedOf, AT, dangerOf, knowledge, talk, wordsFor, type Talk } from './a-talk.js';

/** A talk that has come to advice: first what tells most for this fault, then every question answered as it would be. */
function advised(fault: string, role: 'homeowner' | 'technician' = 'homeowner'): { t: Talk; answer: Answer } {
  const t = talk(role);
  const index = knowledge.faultIds.indexOf(fault);
  const fits = (step: Step): { value: string; score: number } => {
    const scores = step.values.map((_, v) => {
      const [p, base] = [step.table?.rows[index]?.[v] ?? 1, step.table?.base[v] ?? 1];
      return p * Math.log(p / base);
    });
    const best = Math.max(...scores);
    return { value: step.values[scores.indexOf(best)] ?? 'not-sure', score: best };
  };
  const telling = [...knowledge.findings.values()]
    .filter((f) => f.table && (role === 'technician' || ['look', 'touch'].includes(f.needs.skill)))
    .sort((a, b) => fits(b).score - fits(a).score);
  let answer = t.says(knowledge.faults.get(fault)?.examples[0] ?? '');
  for (const f of telling.slice(0, 3)) answer = t.answers(f.id, fits(f).value);
  for (let n = 0; n < 40 && !answer.conclusion && answer.ask; n += 1) {
    const step = knowledge.steps.get(answer.ask.finding ?? answer.ask.reading ?? '');
    if (!step) throw new Error('asked about the talk');
    answer = t.answers(step.id, step.about === 'reading' ? 'not-sure' : fits(step).value);
  }
  if (!answer.conclusion) throw new Error(`${fault} came to no conclusion`);
  return { t, answer };
}

describe('a person is asked for', () => {
  // The very words that the first message tells people to write.
  test.each(['a person please', 'A person, please!', 'a person please.'])('%s', (text) => {
    expect(talk().says(text)).toMatchObject({ wantsPerson: true, status: 'escalated' });
  });

  test.each(['I want to talk to a person', 'can I speak to someone', 'get me a real human', 'call a technician'])(
    '%s',
    (text) => {
      const t = talk();
      t.answers('door.closes-fully', 'no');
      const answer = t.says(text);
      expect(answer).toMatchObject({ wantsPerson: true, status: 'escalated', ask: null });
      expect(answer.escalation).toMatchObject({ kind: 'asked-for-person', urgency: 'routine', state: 'waiting' });
      expect(answer.reply).toContain('call the shop');
    },
  );

  test('no sooner than it is said, and no later than it is meant', () => {
    expect(talk().says('I do not want a technician').wantsPerson).toBe(false);
    expect(talk().answers('door.closes-fully', 'no').wantsPerson).toBe(false);
  });

  test('then what is told later joins the same hand-over, and a danger makes it graver', () => {
    const t = talk();
    const first = t.says('I want to talk to a person');
    const later = t.answers('door.closes-fully', 'no');
    expect(later.escalation?.id).toBe(first.escalation?.id);
    expect(later.wantsPerson).toBe(false);
    const danger = t.says(dangerOf('gas-smell'));
    expect(danger.escalation).toMatchObject({ id: first.escalation?.id, kind: 'hazard', urgency: 'now' });
    const again = t.says('I want to talk to a person');
    expect(again.escalation).toMatchObject({ kind: 'hazard', urgency: 'now' });
  });

  test.each([
    ['told', (t: Talk) => t.answers('cooling.freezer', 'thawing')],
    ['told of the fridge', (t: Talk) => t.answers('cooling.fresh-food', 'warm')],
    ['measured', (t: Talk) => t.measures({ part: 'freezer', quantity: 'temperature', value: 4, unit: 'degC' })],
    [
      'measured in the fridge',
      (t: Talk) => t.measures({ part: 'fresh-food', quantity: 'temperature', value: 50, unit: 'degF' }),
    ],
  ])('with food that is warm, as %s, it is urgent today', (_, warm) => {
    const t = talk();
    warm(t);
    expect(t.says('I want to talk to a person').escalation?.urgency).toBe('today');
  });

  // The limit of the fridge: 40 F (4 C), as food-safety authorities publish it.
  test('with food that is cold enough it is routine', () => {
    const t = talk();
    t.measures({ part: 'fresh-food', quantity: 'temperature', value: 39, unit: 'degF' });
    t.measures({ part: 'freezer', quantity: 'temperature', value: 0, unit: 'degF' });
    expect(t.says('I want to talk to a person').escalation?.urgency).toBe('routine');
  });
});

describe('advice', () => {
  test('stands on every later line, with how it went as the only question', () => {
    const { t, answer } = advised('gasket-dirty');
    expect(answer.status).toBe('advised');
    for (const later of [answer, t.says('why'), t.says('thanks'), t.says('what do you know?')]) {
      expect(later.conclusion).toEqual(answer.conclusion);
      expect(later.status).toBe('advised');
      expect(askedOf(later)).toBe(F.result);
      expect(Date.parse(later.ask?.notBefore ?? '')).toBeGreaterThan(Date.parse(AT));
    }
  });

  test.each(['thanks', 'thank you', 'ok', 'ok, will do', 'great, I will try that'])(
    'answered with "%s" is not done yet',
    (text) => {
      const { t } = advised('gasket-dirty');
      expect(t.says(text).status).toBe('advised');
      expect(t.state().closed).toBe(false);
    },
  );

  test('tells a homeowner to unplug before the first hands-on step', () => {
    const { t, answer } = advised('gasket-dirty');
    expect(answer.conclusion?.action).toBe('self-repair');
    expect(t.events().filter((e) => e.type === 'told')).toHaveLength(1);
  });

  test('that did not help counts against its faults, and the talk goes on', () => {
    const { t, answer } = advised('gasket-dirty');
    const remedy = t.state().advice?.remedy ?? '';
    const own = [...knowledge.faults.values()].filter((f) => f.repair.homeowner.remedy === remedy).map((f) => f.id);
    const p = (a: Answer): number =>
      a.ranking.filter((r) => own.includes(r.fault)).reduce((s, r) => s + r.probability, 0);
    const next = t.answers(F.result, 'no-change');
    expect(p(next)).toBeLessThan(p(answer) / 2);
    expect(t.state().advice?.remedy).not.toBe(remedy);
    expect(t.state().failed).toEqual([{ remedy, words: 'homeowner', better: false }]);
    expect(next.ask ?? next.escalation).not.toBeNull();
  });

  test.each(['homeowner', 'technician'] as const)('that needs a visit is a hand-over too (%s)', (role) => {
    const { answer } = advised('sealed-undercharge', role);
    expect(answer.conclusion).toMatchObject({ system: 'sealed', action: 'licensed-technician' });
    expect(answer).toMatchObject({ status: 'escalated', escalation: { kind: 'sealed-system' } });
  });
});

describe('it is fixed', () => {
  test.each<[string, (t: Talk) => Answer]>([
    ['in words', (t) => t.says('it is fixed')],
    ['as an answer', (t) => t.answers(F.result, 'fixed')],
  ])('%s: the case is closed, and nothing is asked', (_, fixed) => {
    const t = talk();
    t.answers('door.closes-fully', 'no');
    expect(fixed(t)).toMatchObject({ status: 'closed', ask: null });
    expect(t.state().closed).toBe(true);
  });

  test('ends a hand-over that is open', () => {
    const t = talk();
    t.says('I want to talk to a person');
    const answer = t.says('it is fixed');
    expect(answer.status).toBe('closed');
    expect(t.state().escalation?.state).toBe('closed');
  });

  test('but not "it is not fixed"', () => {
    const t = talk();
    t.answers('door.closes-fully', 'no');
    expect(t.says('it is not fixed').status).not.toBe('closed');
    expect(t.says('I hoped it was fixed but it is not').status).not.toBe('closed');
  });
});

describe('a message to a closed case', () => {
  const closed = (): Talk => {
    const t = talk();
    t.answers('door.closes-fully', 'no');
    t.says('it is fixed');
    return t;
  };

  test('opens it again, with what was known', () => {
    const t = closed();
    const answer = t.says(wordsFor('frost.kind', 'soft-snow'));
    expect(answer.status).toBe('open');
    expect(answer.ask).not.toBeNull();
    expect(t.state().facts['door.closes-fully']?.values).toEqual(['no']);
    expect(answer.reply).toContain(knowledge.words.get('closed-again')?.homeowner);
  });

  test('that tells of a danger is heard', () => {
    expect(closed().says(dangerOf('gas-smell'))).toMatchObject({
      status: 'escalated',
      hazards: [{ hazard: 'gas-smell', level: 'stop' }],
    });
  });

  test('that only polls leaves it closed', () => {
    const t = closed();
    const before = t.events().length;
    expect(t.polls().status).toBe('closed');
    expect(t.events()).toHaveLength(before);
  });
});

describe('roles', () => {
  test("may change from line to line: the line's role decides the words and what may be asked", () => {
    const t = talk();
    t.answers('frost.location', 'freezer-back-wall');
    const technician = t.says('what do you know?', { role: 'technician', by: 'u2' });
    const id = technician.ask?.finding ?? technician.ask?.reading ?? '';
    expect(technician.ask?.text).toBe(knowledge.steps.get(id)?.ask.technician.question);
    const homeowner = t.says('what do you know?');
    const own = homeowner.ask?.finding ?? homeowner.ask?.reading ?? '';
    expect(homeowner.ask?.text).toBe(knowledge.steps.get(own)?.ask.homeowner.question);
    expect(t.state().people).toEqual([
      { id: 'u1', role: 'homeowner' },
      { id: 'u2', role: 'technician' },
    ]);
  });

  test('a senior is asked what a technician is asked', () => {
    const path = (role: 'technician' | 'senior'): (string | null)[] => {
      const t = talk(role);
      let answer = t.answers('frost.location', 'freezer-back-wall');
      return Array.from({ length: 6 }, () => {
        const asked = askedOf(answer);
        if (answer.ask?.finding ?? answer.ask?.reading) answer = t.answers(asked ?? '', 'not-sure');
        return asked;
      });
    };
    expect(path('senior')).toEqual(path('technician'));
  });

  const heardAs = (role: 'technician', question: Question): CaseEvent[] => [
    { type: 'opened', at: AT, by: 'u2', role },
    { type: 'heard', at: AT, by: 'u2', role, kind: 'text' },
    { type: 'asked', at: AT, question },
  ];

  test('a question that only a technician may be asked is not repeated to a homeowner', () => {
    for (const step of [...knowledge.steps.values()].filter((s) => s.needs.skill === 'live')) {
      const isFinding = step.about === 'finding';
      const question: Question = {
        kind: isFinding ? 'choice' : 'measurement',
        finding: isFinding ? step.id : null,
        reading: isFinding ? null : step.id,
        about: null,
        value: null,
        was: null,
        notBefore: null,
      };
      const t = talk('technician', heardAs('technician', question));
      expect(askedOf(t.says('why?', { role: 'homeowner' })), step.id).not.toBe(step.id);
    }
  });

  // What a technician was told to replace is repeated to whoever writes next.
  test('advice given to a technician is no self-repair for the homeowner who writes next', () => {
    const { t, answer } = advised('defrost-heater-open', 'technician');
    expect(answer.conclusion?.action).toBe('self-repair');
    const own = knowledge.faults.get('defrost-heater-open')?.repair.homeowner;
    expect(own?.action).toBe('technician-visit');
    expect(t.says('thanks', { role: 'homeowner' }).conclusion?.action).not.toBe('self-repair');
  });
});
