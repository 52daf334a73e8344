/** Plays a transcript against a conversation with a clock of its own, and says what came out otherwise than expected. */
import type { Incoming, ReadingIn, Said } from '../message/incoming.js';
import type { Answer } from '../message/outgoing.js';
import type { Handle } from './stdio.js';
import type { Expectation, Step, Transcript } from './transcript.js';

export interface Played {
  readonly title: string;
  readonly turns: readonly { readonly said: string; readonly answer: Answer }[];
  readonly failures: readonly string[];
  readonly questions: number;
}

const MOST_QUESTIONS = 30;

export function play(t: Transcript, name: string, handle: Handle): Played {
  const turns: { said: string; answer: Answer }[] = [];
  const failures: string[] = [];
  let now = Date.parse(t.starts);
  let questions = 0;
  const send = (said: Said, shown: string, as: Incoming['from']['role']): Answer | null => {
    now += 60_000;
    const handled = handle({
      conversation: name,
      from: { id: `invented-${as}`, role: as },
      id: null,
      at: new Date(now).toISOString(),
      said,
    });
    if (!handled.ok) {
      failures.push(`"${shown}" was refused: ${handled.error.field} ${handled.error.message}`);
      return null;
    }
    turns.push({ said: shown, answer: handled.answer });
    return handled.answer;
  };
  t.steps.forEach((step, i) => {
    if ('waits' in step) {
      now += step.waits * 3_600_000;
      return;
    }
    const as = step.as ?? t.role;
    let answer: Answer | null = turns.at(-1)?.answer ?? null;
    if ('goesOn' in step) {
      for (let n = 0; n < MOST_QUESTIONS && answer?.ask && !answer.conclusion; n += 1) {
        const reply = answered(t, answer.ask);
        questions += 1;
        answer = send(reply.said, reply.shown, as);
      }
      if (answer?.ask && !answer.conclusion)
        failures.push(`step ${i + 1}: still asking after ${MOST_QUESTIONS} questions`);
    } else {
      const { said, shown } = saidBy(step);
      answer = send(said, shown, as);
    }
    if (step.expect && answer) failures.push(...differences(step.expect, answer).map((d) => `step ${i + 1}: ${d}`));
  });
  return { title: t.title, turns, failures, questions };
}

function saidBy(step: Exclude<Step, { waits: number } | { goesOn: true }>): { said: Said; shown: string } {
  if ('says' in step) return { said: { kind: 'text', text: step.says }, shown: step.says };
  if ('answers' in step)
    return {
      said: { kind: 'answer', ...step.answers },
      shown: `[${step.answers.finding}: ${[step.answers.value].flat().join(', ')}]`,
    };
  return {
    said: { kind: 'reading', reading: step.reads },
    shown: `[${step.reads.part} ${step.reads.quantity}: ${step.reads.value} ${step.reads.unit ?? ''}]`,
  };
}

/** What this caller answers to a question, from its table. */
function answered(t: Pick<Transcript, 'knows'>, ask: NonNullable<Answer['ask']>): { said: Said; shown: string } {
  const id = ask.finding ?? ask.reading;
  if (id === null) return { said: { kind: 'text', text: 'no' }, shown: 'no' };
  const known = t.knows[id];
  if (known === undefined)
    return { said: { kind: 'answer', finding: id, value: 'not-sure' }, shown: `[${id}: not sure]` };
  if (typeof known === 'object' && !Array.isArray(known)) {
    const dot = id.lastIndexOf('.');
    const reading = { part: id.slice(0, dot), quantity: id.slice(dot + 1) as ReadingIn['quantity'], ...known };
    return {
      said: { kind: 'reading', reading },
      shown: `[${id}: ${known.value} ${known.unit ?? ''}${known.atC === undefined ? '' : ` at ${known.atC} C`}]`,
    };
  }
  return { said: { kind: 'answer', finding: id, value: known }, shown: `[${id}: ${[known].flat().join(', ')}]` };
}

function differences(e: Expectation, a: Answer): string[] {
  const out: string[] = [];
  const differ = (what: string, expected: unknown, got: unknown): void =>
    void out.push(`${what}: expected ${JSON.stringify(expected)}, got ${JSON.stringify(got)}`);
  const found = (denied: boolean, finding: string): string[] =>
    a.understood.filter((u) => u.finding === finding && u.denied === denied).map((u) => u.value);
  for (const [denied, table] of [
    [false, e.understood],
    [true, e.denied],
  ] as const)
    for (const [finding, value] of Object.entries(table ?? {})) {
      const got = found(denied, finding);
      if ([value].flat().sort().join() !== [...got].sort().join())
        differ(`${denied ? 'denied' : 'understood'} ${finding}`, value, got);
    }
  for (const [finding, value] of Object.entries(e.withdrawn ?? {}))
    if (!a.withdrawn.some((w) => (w.finding ?? w.reading) === finding && String(w.value) === value))
      differ(`withdrawn ${finding}`, value, a.withdrawn);
  for (const [hazard, level] of Object.entries(e.hazards ?? {}))
    if (!a.hazards.some((h) => h.hazard === hazard && h.level === level)) differ(`hazard ${hazard}`, level, a.hazards);
  if (e.hazards && Object.keys(e.hazards).length === 0 && a.hazards.length > 0) differ('hazards', 'none', a.hazards);
  for (const r of e.readings ?? [])
    if (
      !a.readings.some(
        (x) =>
          x.part === r.part &&
          (!r.quantity || x.quantity === r.quantity) &&
          x.verdict === r.verdict &&
          (!r.against || x.against === r.against),
      )
    )
      differ(`reading ${r.part}`, r, a.readings);
  if (e.asks !== undefined) {
    const got = a.ask ? (a.ask.finding ?? a.ask.reading ?? 'talk') : null;
    if (e.asks === null ? got !== null : !([e.asks].flat() as unknown[]).includes(got)) differ('asks', e.asks, got);
  }
  if (e.offTopic !== undefined && e.offTopic !== a.offTopic) differ('offTopic', e.offTopic, a.offTopic);
  if (e.wantsPerson !== undefined && e.wantsPerson !== a.wantsPerson)
    differ('wantsPerson', e.wantsPerson, a.wantsPerson);
  if (e.status !== undefined && e.status !== a.status) differ('status', e.status, a.status);
  if (e.likeliest !== undefined && !([e.likeliest].flat() as unknown[]).includes(a.ranking[0]?.fault))
    differ('likeliest', e.likeliest, a.ranking.slice(0, 3));
  if (e.conclusion === null && a.conclusion) differ('conclusion', null, a.conclusion.fault);
  if (e.conclusion) {
    const { fault, system, action } = e.conclusion;
    if (!a.conclusion) differ('conclusion', e.conclusion, a.ranking.slice(0, 3));
    else {
      if (fault !== undefined && !([fault].flat() as unknown[]).includes(a.conclusion.fault))
        differ('conclusion.fault', fault, a.conclusion.fault);
      if (system !== undefined && system !== a.conclusion.system)
        differ('conclusion.system', system, a.conclusion.system);
      if (action !== undefined && action !== a.conclusion.action)
        differ('conclusion.action', action, a.conclusion.action);
    }
  }
  if (e.escalation === null && a.escalation) differ('escalation', null, a.escalation.kind);
  if (e.escalation) {
    if (!a.escalation) differ('escalation', e.escalation, null);
    else
      for (const key of ['kind', 'urgency'] as const)
        if (e.escalation[key] !== undefined && e.escalation[key] !== a.escalation[key])
          differ(`escalation.${key}`, e.escalation[key], a.escalation[key]);
  }
  const reply = a.reply.toLowerCase();
  for (const words of e.says ?? []) if (!reply.includes(words.toLowerCase())) differ('reply has', words, a.reply);
  for (const words of e.neverSays ?? []) if (reply.includes(words.toLowerCase())) differ('reply lacks', words, a.reply);
  return out;
}
