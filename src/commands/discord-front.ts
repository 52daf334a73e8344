/** The parts of the bot, wired: what the channel needs of knowledge, store and conversations. */
import { DESK_ROOM, type Front } from '../channels/discord/front.js';
import type { Log } from '../channels/discord/log.js';
import { workAtDesk } from '../conversation/desk-work.js';
import type { ReadingIn } from '../message/incoming.js';
import { readBack } from '../reply/read-back.js';
import { list, say } from '../reply/say.js';
import { pageOf } from '../handoff/page.js';
import { listen } from '../safety/listen.js';
import { summaryOf } from '../turn/summary.js';
import { deskPostRenewed, pageName, postsOf } from './discord-posts.js';
import { wire, type Parts } from './parts.js';
import { UsageProblem } from './problem.js';
import { readingTold } from './reading.js';
import type { Settings } from './settings.js';
import { temperatureOf, valueOf } from './stated.js';

const CHANNEL = 'discord';

export function wireDiscord(settings: Settings, log: Log): { readonly parts: Parts; readonly front: Front } {
  const { deskChannel, guild, technicianRole, seniorRole } = settings.discord;
  const hasDesk = deskChannel !== null;
  const parts = wire(settings, CHANNEL, {
    own: ({ knowledge, store }) => ({
      drawn: true,
      pagePath: (caseId) => (hasDesk ? null : say(knowledge, 'homeowner', 'discord.page', { file: pageName(caseId) })),
      picturePath: () => say(knowledge, 'homeowner', 'discord.attached'),
      posts: (made) => postsOf(knowledge, store, hasDesk, made),
      onTrouble: (what, error, caseId) => log.error({ err: error, caseId }, what),
    }),
  });
  const { knowledge, store, conversations } = parts;
  const front: Front = {
    knowledge,
    say: (words, key, slots = {}) => say(knowledge, words, key, { contact: settings.contact ?? '', ...slots }),
    log,
    now: () => new Date(),
    handle: (incoming) => conversations.handle(incoming),
    rooms: store.rooms,
    posts: store.posts,
    inbox: store.inbox,
    caseOf: (conversation) => store.caseOf(CHANNEL, conversation),
    lastAnswer: (caseId) => store.lastAnswer(caseId),
    taken: (caseId, messageId) => store.answerTo(caseId, messageId) !== null,
    textOf: (caseId, messageId) => store.textOf(caseId, messageId),
    isUrgent: (text, role) => listen(knowledge, text, role).some((h) => !h.asked),
    measured: (reading, value, at) => measured(parts, reading, value, at),
    judged: (args, role) => {
      try {
        return { ok: true, ...readingTold(knowledge, args, role, settings.units) };
      } catch (error) {
        if (error instanceof UsageProblem || isUsage(error)) return { ok: false, message: (error as Error).message };
        throw error;
      }
    },
    summary: (caseId, words) => {
      const state = store.load(caseId);
      if (!state) return null;
      const units = state.units ?? 'us';
      const escalation = words === 'technician' ? summaryOf(knowledge, state, caseId) : null;
      return escalation ? pageOf(knowledge, escalation, units) : readBack(knowledge, words, state, units);
    },
    takeUp: (code, conversation) => {
      if (!store.load(code)) return false;
      store.join(CHANNEL, conversation, code);
      return true;
    },
    act: (caseId, act, by, tap) => {
      // in one commit: a tap that is begun again after the end of a process does not act twice
      const worked = store.alone(() => {
        const done = workAtDesk(knowledge, store, caseId, act, by, new Date(), deskPostRenewed(knowledge, store));
        store.inbox.done(tap);
        return done;
      });
      const t = (key: string, slots = {}): string => say(knowledge, 'technician', key, slots);
      if (worked.ok) return { ok: true, message: t(`discord.desk.acted.${act.act}`, { code: caseId }) };
      const { refusal } = worked;
      const who = refusal.why === 'taken' ? refusal.by : '';
      const standing = refusal.why === 'hazards-stand' ? refusal.hazards : [];
      const names = standing.map((h) => knowledge.hazards.get(h)?.name.technician ?? h);
      const slots = { code: caseId, who, list: list(knowledge, 'technician', names) };
      return { ok: false, message: t(`discord.desk.refused.${refusal.why}`, slots) };
    },
    due: (until) => store.due(CHANNEL, until),
    roles: { technician: technicianRole, senior: seniorRole },
    guild: guild ?? DESK_ROOM,
    deskChannel,
  };
  return { parts, front };
}

const isUsage = (error: unknown): boolean => String((error as { code?: unknown }).code).startsWith('ERR_PARSE_ARGS');

/** A number typed in a form, with the temperature that it was taken at. */
function measured({ knowledge }: Parts, id: string, value: string, at: string): ReturnType<Front['measured']> {
  const step = knowledge.readings.get(id);
  if (!step) return { ok: false, message: say(knowledge, 'homeowner', 'discord.forged') };
  try {
    const { part, quantity } = step;
    const room = knowledge.places.usual.room.value;
    const reading: ReadingIn = {
      part,
      quantity,
      ...valueOf(value, quantity, 'reading'),
      ...(at === '' ? {} : { atC: temperatureOf(at, 'reading.atC', room).atC }),
    };
    return { ok: true, reading };
  } catch (error) {
    if (error instanceof UsageProblem) return { ok: false, message: error.message };
    throw error;
  }
}
