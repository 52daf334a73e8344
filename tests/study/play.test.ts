import { describe, expect, test } from 'vitest';
import { drawCaller, type Caller } from '../../src/study/caller.js';
import { drawsOf } from '../../src/study/chance.js';
import { play } from '../../src/study/play.js';
import { mindOf, worldOf } from '../../src/study/standing.js';
import {
  byList,
  callSomeone,
  cheapestFirst,
  mostProbableFirst,
  oneAhead,
  program,
} from '../../src/study/trade-policies.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const roles = (['technician', 'homeowner'] as const).map((words) => {
  const mind = mindOf(knowledge, words);
  return { words, mind, world: worldOf(knowledge, words) };
});
const [technician, homeowner] = roles as [(typeof roles)[0], (typeof roles)[0]];
const faultIndex = (id: string): number => technician.mind.model.faults.indexOf(id);
/** A caller with one cause, whose repairs work as told. */
const caller = (fault: string, works: boolean): Caller => ({
  ...drawCaller(knowledge, 'technician', drawsOf(3)),
  cause: faultIndex(fault),
  works: () => works,
});
const once = (remedies: readonly (string | null)[]) => {
  let n = 0;
  return ({ decisions }: { decisions: readonly { remedy: string | null }[] }) => {
    const remedy = remedies[n++];
    return { kind: 'do', decision: decisions.find((d) => d.remedy === remedy)! } as never;
  };
};
const { costs } = knowledge;

describe('a case played to the end', () => {
  test('costs what handing over costs where somebody is called at once', () => {
    for (const { words, mind, world } of roles)
      expect(play(mind, world, caller('gasket-dirty', true), callSomeone)).toMatchObject({
        minutes: costs.handOver[words],
        end: 'handed-over',
        first: { right: false, alone: false },
      });
  });

  test('costs the repair where it works', () => {
    const { mind, world } = technician;
    expect(play(mind, world, caller('gasket-dirty', true), once(['clean-gasket']))).toMatchObject({
      minutes: costs.remedy('clean-gasket', 'technician'),
      end: 'mended',
      visits: 1,
      wrongParts: 0,
      first: { right: true, alone: true },
    });
  });

  test('costs a wrong part, a second trip and the right repair where the first was wrong', () => {
    const { mind, world } = technician;
    const end = play(mind, world, caller('gasket-dirty', true), once(['replace-gasket', 'clean-gasket']));
    expect(end.minutes).toBe(
      costs.remedy('replace-gasket', 'technician') +
        costs.wrong.technician +
        costs.remedy('clean-gasket', 'technician'),
    );
    expect(end).toMatchObject({ end: 'mended', visits: 2, wrongParts: 1, first: { right: false } });
  });

  test('costs a missed licensed repair once', () => {
    const { mind, world } = technician;
    const end = play(
      mind,
      world,
      caller('compressor-weak', true),
      once(['clean-gasket', 'clear-vents', 'licensed-sealed']),
    );
    const own = ['clean-gasket', 'clear-vents', 'licensed-sealed'].map((r) => costs.remedy(r, 'technician'));
    expect(end.minutes).toBe(own.reduce((s, m) => s + m, 0) + 2 * costs.wrong.technician + costs.licensedMissed);
  });

  test('at home ends with the technician who comes, on a second trip for another part', () => {
    const { mind, world } = homeowner;
    const end = play(mind, world, caller('evaporator-fan-failed', true), once(['visit-defrost']));
    expect(end).toMatchObject({ end: 'visit', visits: 2, first: { right: false } });
    expect(end.minutes).toBe(costs.remedy('visit-defrost', 'homeowner') + costs.otherPart);
  });

  test.each(roles)('ends under every policy ($words)', ({ words, mind, world }) => {
    const policies = [
      program,
      oneAhead,
      callSomeone,
      byList({ items: knowledge.study.checklist, gap: null }),
      byList({ items: knowledge.study.checklist, gap: 20 }),
      byList(cheapestFirst(mind)),
      byList(mostProbableFirst(mind)),
      byList({ items: ['clean-gasket', 'clear-vents', 'gasket.condition'], gap: 0 }),
    ];
    for (let i = 0; i < 4; i += 1)
      for (const policy of policies) {
        const drawn = drawCaller(knowledge, words, drawsOf(8, i));
        const end = play(mind, world, drawn, policy);
        expect(end.end).not.toBeNull();
        expect(end.state.questions).toBeLessThanOrEqual(costs.mostQuestions + 4);
        expect(end).toEqual(play(mind, world, drawn, policy));
      }
  });
});

test('each check and repair of a list is made in its order, as far as it can be', () => {
  const { mind, world } = homeowner;
  const list = {
    items: ['gasket.condition', 'defrost-heater.continuity', 'clean-gasket', 'door.closes-fully'],
    gap: -1,
  };
  const told = { ...caller('drain-iced', true), tells: () => true };
  const made: string[] = [];
  play(mind, world, told, byList(list), (_, chosen) =>
    made.push(chosen.kind === 'ask' ? chosen.step.id : `${chosen.kind} ${chosen.decision.remedy}`),
  );
  const [first, second, third] = made.filter(
    (m) => list.items.some((item) => m.endsWith(item)) && m !== 'defrost-heater.continuity',
  );
  expect([first, second, third]).toEqual(['gasket.condition', 'do clean-gasket', 'door.closes-fully']);
});
