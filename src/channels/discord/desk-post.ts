/** An escalation as the one message of the technicians' channel: danger and urgency first, the hand-off in short, its acts. */
import { ButtonStyle } from 'discord.js';
import type { Escalation } from '../../message/outgoing.js';
import type { MessageBody } from './body.js';
import { escapeText } from './escape.js';
import type { Front } from './front.js';
import { button, rowOf, short, type Row, type Style } from './question.js';
import { LONGEST } from './split.js';

const WORDS = 'technician';
const LONGEST_PART = 380;
const CAUSES = 3;

/** The outbox item of an escalation: one for its whole life. 22 characters for the 128 bits of its id. */
export const deskPostId = (escalation: string): string => `e${shortened(escalation)}`;
export const remindPostId = (escalation: string, since: string): string =>
  `r${shortened(escalation).slice(0, 14)}${Date.parse(since).toString(36)}`;
const shortened = (uuid: string): string => Buffer.from(uuid.replaceAll('-', ''), 'hex').toString('base64url');

export function deskPost(
  { say, knowledge }: Pick<Front, 'say' | 'knowledge'>,
  e: Escalation,
  pages: { readonly markdown: string; readonly html: string | null },
  photos: readonly string[],
): MessageBody {
  const t = (key: string, slots = {}): string => say(WORDS, key, slots);
  const own = (text: string): string => escapeText(short(text.replaceAll('\n', ' '), LONGEST_PART));
  const hazards = e.safety.hazards.map(({ hazard, level }) =>
    t(`discord.desk.hazard.${level}`, { name: knowledge.hazards.get(hazard)?.name[WORDS] ?? hazard }),
  );
  const head = t('discord.desk.head', {
    urgency: t(`discord.desk.urgency.${e.urgency}`),
    kind: say(WORDS, `page.kind.${e.kind}`),
    code: e.caseId,
  });
  const background = [e.background.unit, e.background.history, e.background.done].filter((part) => part !== null);
  const causes = e.assessment.ranking.slice(0, CAUSES).map(({ fault, probability }) =>
    t('discord.desk.cause', {
      cause: knowledge.faults.get(fault)?.name[WORDS] ?? fault,
      percent: Math.round(probability * 100),
    }),
  );
  const readings = e.assessment.readings.map(({ part, quantity, verdict }) =>
    t('discord.desk.reading', { part: knowledge.readings.get(`${part}.${quantity}`)?.name[WORDS] ?? part, verdict }),
  );
  const lines = [
    `## ${escapeText(head)}`,
    ...hazards.map((line) => `**${escapeText(line)}**`),
    t('discord.desk.situation', { text: own(e.situation) }),
    ...(background.length > 0 ? [t('discord.desk.background', { text: own(background.join(' ')) })] : []),
    t('discord.desk.assessment', { text: own([...causes, ...readings].join(', ')) }),
    t('discord.desk.recommendation', { text: own([e.recommendation.why, ...e.recommendation.firstChecks].join(' ')) }),
    `**${t(`discord.desk.state.${e.state}`, { who: escapeText(e.claimedBy ?? '') })}**`,
  ];
  const name = `case-${e.caseId}`;
  const alt = t('discord.desk.page', { code: e.caseId });
  return {
    content: short(lines.join('\n'), LONGEST),
    rows: rows(t, e),
    files: [
      { name: `${name}.md`, alt, text: pages.markdown },
      ...(pages.html === null ? [] : [{ name: `${name}.html`, alt, text: pages.html }]),
    ],
    photos: [...photos],
  };
}

function rows(t: (key: string) => string, { caseId, state, safety }: Escalation): Row[] {
  const act = (name: 'claim' | 'ask' | 'hand-back' | 'close' | 'clear', style: Style = ButtonStyle.Secondary) =>
    button(t(`discord.desk.${name}`), { does: 'desk', caseId, act: name }, style);
  if (state === 'closed') return [];
  if (state === 'waiting') return [rowOf(act('claim', ButtonStyle.Primary))];
  const clear = safety.hazards.length > 0 ? [act('clear')] : [];
  return [rowOf(act('ask', ButtonStyle.Primary), act('hand-back'), ...clear, act('close', ButtonStyle.Success))];
}
