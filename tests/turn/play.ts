// Plays a talk of any acts through `turn` alone, with nothing kept outside: the first message that breaks something ends it.

import { actOn } from '../../src/desk/act.js';
import type { CaseEvent } from '../../src/case/events.js';
import { fold, newCase, type CaseState } from '../../src/case/state.js';
import type { Answer } from '../../src/message/outgoing.js';
import { turn } from '../../src/turn.js';
import { AT, knowledge } from './a-talk.js';
import { picked, type AnyAct } from './any-act.js';
import { broken } from './invariants.js';

/** What was broken, first the message that did it, and how many messages were answered. */
export function play(acts: readonly AnyAct[]): { bad: string[]; messages: number } {
  let messages = 0;
  const opening = acts.find((a) => 'line' in a);
  let state: CaseState = newCase(AT, opening && 'line' in opening ? opening.line.role : 'homeowner');
  let all: readonly CaseEvent[] = [];
  let last: Answer | null = null;
  let now = Date.parse(AT);
  let ids = 0;
  for (const [i, act] of acts.entries()) {
    if (act.act === 'restarts') {
      state = JSON.parse(JSON.stringify(state)) as CaseState;
      continue;
    }
    if (act.act === 'desk') {
      const acted = actOn(knowledge, state, act.does, { at: new Date(now).toISOString(), by: 'senior-1' });
      if (!acted.ok) continue;
      state = fold(state, acted.events);
      all = [...all, ...acted.events];
      continue;
    }
    const { role, by, hours } = act.line;
    now += hours * 3_600_000;
    const said = act.act === 'says' ? act.said : picked(last?.ask ?? null, act.choice);
    const before = state;
    const turned = turn(
      knowledge,
      before,
      { conversation: 'k', from: { id: by, role }, id: null, at: new Date(now).toISOString(), said },
      {
        now: new Date(now).toISOString(),
        newId: () => `e${(ids += 1)}`,
        caseId: 'K7WX2M9P',
        contact: null,
        greeted: true,
        pagePath: null,
        notes: [],
      },
    );
    messages += 1;
    state = turned.state;
    all = [...all, ...turned.events];
    last = turned.answer;
    const bad = broken({ role, before, after: state, events: turned.events, all, answer: last });
    if (bad.length > 0) return { bad: [`message ${i}, ${role}: ${JSON.stringify(said)}`, ...bad], messages };
  }
  return { bad: [], messages };
}
