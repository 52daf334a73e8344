/** The desk's acts as taps in the technicians' channel; only technicians and seniors of the server may press them. */
import { InteractionType, type APIMessageComponentInteraction, type APIModalSubmitInteraction } from 'discord.js';
import { acknowledge, fillIn, privately, told } from './acknowledge.js';
import type { Bot } from './bot-parts.js';
import { escapeText } from './escape.js';
import { deskForm, fieldsOf } from './forms.js';
import { DESK_ROOM, type DeskAct, type Front } from './front.js';
import type { Tap } from './ids.js';
import type { Person } from './people.js';
import { take } from './take.js';
import { tappedOf } from './tapped.js';
import { tellNews } from './news.js';

const WORDS = 'technician';
const MOST_CAUSES = 25;
const NOT_FOUND = 'not-found';

export async function deskTap(
  bot: Bot,
  i: APIMessageComponentInteraction | APIModalSubmitInteraction,
  { caseId, act }: Extract<Tap, { does: 'desk' }>,
  person: Person,
): Promise<void> {
  const { front, rest, work } = bot;
  const tapped = tappedOf(bot, i);
  const answer = (body: Parameters<typeof acknowledge>[2]): Promise<boolean> =>
    work.acknowledging(() => acknowledge(rest, tapped, body));
  if (person.role === 'homeowner' || i.guild_id !== front.guild)
    return void (await answer(told(front.say(WORDS, 'discord.not-desk'))));
  const isForm = i.type === InteractionType.ModalSubmit;
  if (!isForm && act !== 'claim')
    return void (await answer(deskForm(front, caseId, act, optionsFor(front, caseId, act))));
  const does = actOf(act, isForm ? fieldsOf(i.data.components) : {});
  if (!does) return void (await answer(told(front.say(WORDS, 'discord.not-text'))));
  if ((await take(bot, i, privately)) === 'known') return;
  await work.inOrder(DESK_ROOM, async () => {
    const done = await work.turn(() => front.act(caseId, does, person.from.id, i.id));
    bot.delivery.kick(DESK_ROOM);
    await fillIn(rest, tapped, escapeText(done.message));
    const room = done.ok ? front.rooms.ofCase(caseId) : null;
    if (room) await tellNews(bot, room);
  });
}

function actOf(act: DeskAct['act'], f: Record<string, string>): DeskAct | null {
  const { text = '', cause = '', hazard = '' } = f;
  switch (act) {
    case 'claim':
      return { act };
    case 'ask':
      return text ? { act, text } : null;
    case 'hand-back':
      return { act, text: text || null };
    case 'clear':
      return hazard ? { act, hazard } : null;
    case 'close':
      return cause ? { act, cause, fixed: f['fixed'] || null, parts: f['parts'] || null } : null;
  }
}

/** What a form offers: the hazards that stand, or the causes, the likeliest first. */
function optionsFor(
  { knowledge, say, lastAnswer }: Front,
  caseId: string,
  act: DeskAct['act'],
): { value: string; label: string }[] {
  const escalation = lastAnswer(caseId)?.escalation;
  if (act === 'clear')
    return (escalation?.safety.hazards ?? []).map(({ hazard }) => ({
      value: hazard,
      label: knowledge.hazards.get(hazard)?.name[WORDS] ?? hazard,
    }));
  if (act !== 'close') return [];
  const likely = (lastAnswer(caseId)?.ranking ?? []).map((r) => r.fault).filter((f) => f !== 'something-else');
  const causes = [...new Set([...likely, ...knowledge.faultIds.filter((f) => f !== 'something-else')])];
  return [
    ...[...causes.slice(0, MOST_CAUSES - 2), 'something-else'].map((value) => ({
      value,
      label: knowledge.faults.get(value)?.name[WORDS] ?? value,
    })),
    { value: NOT_FOUND, label: say(WORDS, 'desk.cause.not-found') },
  ];
}
