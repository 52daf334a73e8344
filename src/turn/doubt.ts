/**
 * The dangers of a message: those that are an alarm, those that are asked about first, and the answer to such a question.
 * "Not sure" counts as yes.
 */
import type { CaseState } from '../case/state.js';
import { standingStops } from '../case/look.js';
import type { Knowledge, Role } from '../knowledge/facts.js';
import { doubtedIn } from '../reply/ask.js';
import { levelFor, type Heard as Danger } from '../safety/listen.js';
import { weigh } from '../safety/weigh.js';
import type { Understanding } from '../understand/understand.js';

export interface Dangers {
  readonly dangers: readonly Danger[];
  /** asked about before anything else, the likeliest first */
  readonly doubt: readonly string[];
  /** of what was asked about: the hazard that is there, `no` where there is none, null where that was not answered */
  readonly answer: string | null;
}

/** hazards in one question */
const MOST = 2;

export function dangersIn(knowledge: Knowledge, state: CaseState, role: Role, text: string, u: Understanding): Dangers {
  const { question, doubted } = state;
  const asking = question?.about === 'danger' ? doubtedIn(question) : [];
  const standing = state.hazards.filter((h) => !h.cleared).map((h) => h.hazard);
  const { alarms, named, thought } = weigh(knowledge, text, role, { standing, doubted, asking });
  const answer = answered(asking, text, u);
  // who asks for a person gets one, unless words name a danger
  const inDoubt = [...named, ...(u.acts.has('person') ? [] : thought)];
  return {
    dangers: withAnswer(knowledge, role, text, alarms, asking, answer),
    doubt: answer === null && standingStops(state).length === 0 ? inDoubt.slice(0, MOST) : [],
    answer,
  };
}

function answered(asking: readonly string[], text: string, u: Understanding): string | null {
  const [first] = asking;
  if (first === undefined) return null;
  const said = text.trim().toLowerCase();
  const chosen = asking.find((h, i) => said === h || (asking.length > 1 && said === String(i + 1)));
  if (chosen !== undefined) return chosen;
  // "I don't know" is no "no"
  if (u.picked === 'yes' || u.notSure || u.acts.has('not-sure')) return first;
  return u.picked === 'no' ? 'no' : null;
}

/** The alarms, with the danger that was answered to be there, and without doubtful words of one that is not. */
function withAnswer(
  knowledge: Knowledge,
  role: Role,
  text: string,
  alarms: readonly Danger[],
  asking: readonly string[],
  answer: string | null,
): readonly Danger[] {
  if (answer === 'no') return alarms.filter((d) => d.plain || !asking.includes(d.hazard));
  const hazard = answer === null ? undefined : knowledge.hazards.get(answer);
  if (!hazard || alarms.some((d) => d.hazard === hazard.id)) return alarms;
  const level = levelFor(hazard, role);
  const raised: Danger = {
    hazard: hazard.id,
    level,
    span: text,
    asked: false,
    silent: false,
    plain: true,
    past: false,
  };
  return level === 'stop' ? [raised, ...alarms] : [...alarms, raised];
}
