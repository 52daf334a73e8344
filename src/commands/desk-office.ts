/** The desk's parts, wired: the worklist, one case whole, an act with its page written anew, reminders said once. */
import { pageOf } from '../handoff/page.js';
import { remindOf, workAtDesk, type Worked } from '../conversation/desk-work.js';
import type { Act } from '../desk/act.js';
import { historyOf, type Done } from '../desk/history.js';
import { worklist, type Work } from '../desk/work.js';
import type { Escalation } from '../message/outgoing.js';
import { summaryOf } from '../turn/summary.js';
import { age, doneLine, sayer } from './desk-words.js';
import { deskPostRenewed } from './discord-posts.js';
import type { Parts } from './parts.js';

export interface OneCase {
  readonly escalation: Escalation;
  readonly history: readonly Done[];
  /** the page and what was done, to read */
  readonly text: string;
}

export class Office {
  constructor(
    private readonly parts: Omit<Parts, 'files'>,
    readonly now: () => Date,
  ) {}

  /** Open escalations, the most urgent and oldest first. */
  list(): Work[] {
    const { store } = this.parts;
    return worklist(
      store.escalated().flatMap((caseId) => {
        const state = store.load(caseId);
        return state ? [{ caseId, state }] : [];
      }),
    );
  }

  /** Lines of reminder for what nobody has claimed in time; each is given once, whoever asks. */
  reminders(): string[] {
    const { knowledge, store } = this.parts;
    const words = sayer(knowledge);
    return this.list()
      .filter(({ caseId }) => remindOf(knowledge, store, caseId, this.now()))
      .map(({ caseId: code, escalation: { urgency, since } }) =>
        words(`desk.reminder.${urgency}`, { code, age: age(words, since, this.now()) }),
      );
  }

  /** Null where there is no such case, or nothing was ever handed over in it. */
  open(caseId: string): OneCase | null {
    const { knowledge, store } = this.parts;
    const state = store.load(caseId);
    const escalation = state && summaryOf(knowledge, state, caseId);
    if (!state || !escalation) return null;
    const words = sayer(knowledge);
    const history = historyOf(store.events(caseId));
    const done = history.map((d) => doneLine(words, d)).join('\n');
    const page = pageOf(knowledge, escalation, state.units ?? 'us');
    return { escalation, history, text: `${page}\n## ${words('desk.history')}\n\n${done}\n` };
  }

  act(caseId: string, act: Act, by: string): Worked {
    const { knowledge, store, conversations } = this.parts;
    const worked = workAtDesk(knowledge, store, caseId, act, by, this.now(), deskPostRenewed(knowledge, store));
    const channel = worked.ok ? store.channelOf(caseId) : null;
    if (channel !== null) conversations.deliver(channel);
    return worked;
  }
}
