/** The first answer to an interaction, within three seconds or not at all; and what only its person reads afterwards. */
import { InteractionResponseType, MessageFlags, Routes, type APIInteractionResponse, type REST } from 'discord.js';
import { setTimeout as wait } from 'node:timers/promises';
import { CODES, isCode, troubleOf } from './outcome.js';
import type { Row } from './question.js';
import { LONGEST } from './split.js';

export interface Tapped {
  readonly id: string;
  readonly token: string;
  readonly application: string;
}

/** After this the token takes no first answer any more, in milliseconds. */
const WINDOW_MS = 2800;
/** For so long what was promised to one person is tried, in milliseconds. */
const PROMISE_MS = 20_000;
const FIRST_PAUSE_MS = 60;

/** False where Discord did not take it in time. Discord's own trouble is tried again while there is time. */
export function acknowledge(rest: REST, tapped: Tapped, body: APIInteractionResponse): Promise<boolean> {
  return patiently(
    WINDOW_MS,
    () => rest.post(Routes.interactionCallback(tapped.id, tapped.token), { body, auth: false }),
    // an earlier try had arrived, or the same event came twice
    (error) => isCode(error, CODES.acknowledged),
  );
}

/** False where it is refused, or no try has come through for so many milliseconds. */
async function patiently(
  forMs: number,
  attempt: () => Promise<unknown>,
  isDone: (error: unknown) => boolean = () => false,
): Promise<boolean> {
  const until = Date.now() + forMs;
  for (let pause = FIRST_PAUSE_MS; ; pause *= 2) {
    try {
      await attempt();
      return true;
    } catch (error) {
      if (isDone(error)) return true;
      if (troubleOf(error).kind === 'dismissed') throw error;
      if (troubleOf(error).kind === 'refused' || Date.now() + pause > until) return false;
      await wait(pause);
    }
  }
}

/** Nothing to be seen yet; what comes of it is posted in the room. */
export const silently: APIInteractionResponse = { type: InteractionResponseType.DeferredMessageUpdate };

/** "Thinking", for its person alone, until `say` is called. */
export const privately: APIInteractionResponse = {
  type: InteractionResponseType.DeferredChannelMessageWithSource,
  data: { flags: MessageFlags.Ephemeral },
};

/** At once, for its person alone. */
export const told = (content: string): APIInteractionResponse => ({
  type: InteractionResponseType.ChannelMessageWithSource,
  data: { ...quiet(content), flags: MessageFlags.Ephemeral },
});

const quiet = (content: string) => ({ content: content.slice(0, LONGEST), allowed_mentions: { parse: [] } });

/** Fills in what `privately` promised. False where it cannot be shown: the tap was never acknowledged, or is too old. */
export function fillIn(
  rest: REST,
  { application, token }: Tapped,
  content: string,
  more: { readonly rows?: Row[]; readonly files?: { name: string; data: Buffer; alt: string }[] } = {},
): Promise<boolean> {
  const files = more.files ?? [];
  const body = {
    ...quiet(content),
    ...(more.rows ? { components: more.rows } : {}),
    ...(files.length > 0
      ? { attachments: files.map(({ name, alt }, i) => ({ id: String(i), filename: name, description: alt })) }
      : {}),
  };
  const send = { auth: false, body, files: files.map(({ name, data }) => ({ name, data })) };
  return patiently(PROMISE_MS, () => rest.patch(Routes.webhookMessage(application, token, '@original'), send));
}

/** Another line for its person alone; false where it cannot be shown. Tried once, since a second try could say it twice. */
export function add(rest: REST, { application, token }: Tapped, content: string): Promise<boolean> {
  const body = { ...quiet(content), flags: MessageFlags.Ephemeral };
  return patiently(0, () => rest.post(Routes.webhook(application, token), { auth: false, body }));
}
