/** The desk on a real terminal: pick a case, read its page, act on it; arrows or typed words, as in the talk. */
import type { Readable, Writable } from 'node:stream';
import type { Screen } from '../channels/terminal.js';
import { NOT_FOUND, type Act } from '../desk/act.js';
import type { Knowledge } from '../knowledge/facts.js';
import { faultName } from '../reply/names.js';
import type { Office, OneCase } from './desk-office.js';
import { refusalLine, sayer, workLine, type Say } from './desk-words.js';

export async function runBoard(
  knowledge: Knowledge,
  office: Office,
  by: string,
  input: Readable,
  output: Writable,
): Promise<number> {
  const words = sayer(knowledge);
  const hints = { hint: words('terminal.hint'), empty: words('terminal.empty') };
  const { promptScreen } = await import('../channels/prompt.js');
  return board(knowledge, office, by, promptScreen(input, output, hints));
}

/** Runs until the person leaves. */
export async function board(knowledge: Knowledge, office: Office, by: string, screen: Screen): Promise<number> {
  const words = sayer(knowledge);
  for (;;) {
    for (const reminder of office.reminders()) screen.show(reminder);
    const work = office.list();
    screen.show(work.length === 0 ? words('desk.nothing') : words('desk.pick'));
    const choices = work.map((w) => ({ value: w.caseId, label: pickLine(words, office, w) }));
    const picked = await pick(screen, [...choices, { value: '', label: words('desk.again') }]);
    if (picked === null) return 0;
    const code = picked.trim().toUpperCase();
    for (let one = office.open(code); one; one = office.open(code)) {
      screen.show(one.text);
      const act = await chooseAct(knowledge, one, screen, by);
      if (act === 'back') break;
      if (act === 'leave') return 0;
      const worked = office.act(code, act, by);
      if (worked.ok) screen.show(words(`desk.acted.${act.act}`, { code }));
      else if (worked.refusal.why !== 'no-case') {
        const standing = one.escalation.safety.hazards.map((h) => h.hazard);
        const escalation = office.list().find((w) => w.caseId === code)?.escalation ?? null;
        screen.show(refusalLine(knowledge, code, worked.refusal, escalation, standing));
      }
    }
  }
}

function pickLine(words: Say, office: Office, w: Parameters<typeof workLine>[1]): string {
  const situation = office.open(w.caseId)?.escalation.situation ?? '';
  return words('desk.pick.line', { line: workLine(words, w, office.now()), situation });
}

/** What was chosen or typed; null when the person leaves. */
async function pick(screen: Screen, choices: Parameters<Screen['ask']>[0]): Promise<string | null> {
  const input = await screen.ask(choices);
  if (input === null) return null;
  if ('chosen' in input) return input.chosen;
  const byNumber = choices[Number(input.typed) - 1];
  return byNumber ? byNumber.value : input.typed;
}

async function chooseAct(
  knowledge: Knowledge,
  { escalation }: OneCase,
  screen: Screen,
  by: string,
): Promise<Act | 'back' | 'leave'> {
  const words = sayer(knowledge);
  const mine = escalation.claimedBy === by && escalation.state === 'claimed';
  const hazards = mine ? escalation.safety.hazards : [];
  const names = mine
    ? (['ask', 'hand-back', 'close'] as const)
    : escalation.state === 'waiting'
      ? (['claim'] as const)
      : [];
  const chosen = await pick(screen, [
    ...names.map((value) => ({ value, label: words(`desk.act.${value}`) })),
    ...hazards.map(({ hazard }) => ({
      value: `clear ${hazard}`,
      label: words('desk.act.clear', { name: knowledge.hazards.get(hazard)?.name.technician ?? hazard }),
    })),
    { value: 'back', label: words('desk.back') },
  ]);
  if (chosen === null) return 'leave';
  if (chosen.startsWith('clear ')) return { act: 'clear', hazard: chosen.slice('clear '.length) };
  const skip = [{ value: '', label: words('desk.skip') }];
  const write = async (key: string, choices = skip): Promise<string | null> => {
    screen.show(words(key));
    const text = await pick(screen, choices);
    return text?.trim() || null;
  };
  switch (chosen) {
    case 'claim':
      return { act: 'claim' };
    case 'ask': {
      const text = await write('desk.write.ask', []);
      return text ? { act: 'ask', text } : 'back';
    }
    case 'hand-back':
      return { act: 'hand-back', text: await write('desk.write.hand-back') };
    case 'close': {
      const likely = escalation.assessment.ranking.map((r) => r.fault).filter((f) => f !== 'something-else');
      const cause = await write('desk.write.cause', [
        ...[...likely, 'something-else'].map((value) => ({ value, label: faultName(knowledge, 'technician', value) })),
        { value: NOT_FOUND, label: words('desk.cause.not-found') },
      ]);
      if (!cause) return 'back';
      const fixed = await write('desk.write.fixed');
      return { act: 'close', cause, fixed, parts: await write('desk.write.parts') };
    }
    default:
      return 'back';
  }
}
