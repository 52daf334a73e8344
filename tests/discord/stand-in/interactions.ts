// Interactions from their sending to the last follow-up: the 3 s, the 15 min, which answer fits which kind, and what the
// answer does. Documented: developers/interactions/receiving-and-responding.mdx.

import {
  InteractionResponseType as Answer,
  InteractionType as Kind,
  MessageFlags,
  MessageReferenceType,
  MessageType,
  type APIMessage,
  type APIUser,
} from 'discord.js';
import type { Upload } from './body.js';
import type { Hub } from './hub.js';
import type { MessageBody } from './messages.js';
import {
  acknowledged,
  badForm,
  badWebhookToken,
  Refusal,
  unknownInteraction,
  unknownMessage,
  unknownWebhook,
} from './refusals.js';
import type { Part, Said } from './said.js';
import type { Channel } from './world.js';

const ANSWER_WITHIN = 3000;
const TOKEN_LIVES = 15 * 60_000;

/** A form that the bot has shown. */
interface Modal {
  readonly custom_id: string;
  readonly title: string;
  readonly components: readonly Part[];
}

/** One interaction, as a test looks at it. */
export interface Given {
  readonly id: string;
  readonly token: string;
  readonly kind: Kind;
  /** The command's name or the custom_id. */
  readonly name: string;
  readonly user: APIUser;
  readonly channel: Channel;
  /** The message the component is on. */
  readonly on: Said | undefined;
  /** Milliseconds since 1970 by the stand-in's clock. */
  readonly sentAt: number;
  /** Real time, for the time until the acknowledgement. */
  readonly sentReal: number;
  /** How it was acknowledged, and after how many real milliseconds. */
  answer?: { readonly type: Answer; readonly afterMs: number };
  /** What @original means: the answer, or the message the component is on. */
  original?: Said;
  modal?: Modal;
  choices?: readonly { readonly name: string; readonly value: string | number }[];
  readonly followUps: Said[];
  /** Answers that came and were refused. */
  readonly refused: Refusal[];
}

/** What an answer carries: a message, a form or choices, by its type. */
export type AnswerData = MessageBody & { readonly choices?: Given['choices'] };

export class Interactions {
  readonly all: Given[] = [];

  constructor(private readonly hub: () => Hub) {}

  /** POST /interactions/:id/:token/callback. @throws Refusal 10062, 40060, 50035 */
  answer(
    id: string,
    token: string,
    body: { type: Answer; data: AnswerData | null; at: number },
    uploads: readonly Upload[],
  ): Given {
    const given = this.all.find((i) => i.id === id && i.token === token);
    if (given === undefined) throw unknownInteraction();
    try {
      if (given.answer !== undefined) throw acknowledged();
      if (body.at - given.sentAt > ANSWER_WITHIN) throw unknownInteraction();
      refuseUnfit(given, body.type);
      this.#take(given, body.type, body.data ?? {}, uploads);
    } catch (error) {
      if (error instanceof Refusal) given.refused.push(error);
      throw error;
    }
    given.answer = { type: body.type, afterMs: performance.now() - given.sentReal };
    return given;
  }

  /** The interaction a webhook's token belongs to. @throws Refusal 10015 before it is acknowledged, 50027 after 15 min */
  behind(token: string): Given {
    const given = this.all.find((i) => i.token === token);
    if (given === undefined) throw unknownWebhook();
    if (this.hub().clock.now() - given.sentAt > TOKEN_LIVES) throw badWebhookToken();
    if (given.answer === undefined) throw unknownWebhook();
    return given;
  }

  /** The message '@original' or an id stands for. @throws Refusal 10008 */
  message(given: Given, id: string): Said {
    const mine = [given.original, ...given.followUps];
    const found = id === '@original' ? given.original : mine.find((m) => m?.id === id);
    if (found === undefined || found.removed) throw unknownMessage();
    return found;
  }

  /** POST /webhooks/:app/:token. The first one after a deferred answer takes its place, as it does at Discord. */
  followUp(given: Given, body: MessageBody, uploads: readonly Upload[]): Said {
    if (given.original?.thinking === true) return this.hub().messages.edit(given.original, body, uploads);
    const said = this.#post(given, body, uploads, {
      type: MessageType.Reply,
      ...(given.original === undefined || given.original.onlyFor !== undefined
        ? {}
        : {
            message_reference: {
              type: MessageReferenceType.Default,
              message_id: given.original.id,
              channel_id: given.channel.id,
            },
          }),
    });
    given.followUps.push(said);
    return said;
  }

  #take(given: Given, type: Answer, data: AnswerData, uploads: readonly Upload[]): void {
    const { messages } = this.hub();
    switch (type) {
      case Answer.ChannelMessageWithSource:
      case Answer.DeferredChannelMessageWithSource: {
        const loading = type === Answer.DeferredChannelMessageWithSource ? MessageFlags.Loading : 0;
        const ephemeral = (data.flags ?? 0) & MessageFlags.Ephemeral;
        const body = loading === 0 ? data : { flags: ephemeral | loading };
        const slash = given.kind === Kind.ApplicationCommand;
        given.original = this.#post(given, body, uploads, {
          type: slash ? MessageType.ChatInputCommand : MessageType.Reply,
        });
        return;
      }
      case Answer.DeferredMessageUpdate:
        if (given.on !== undefined) given.original = given.on;
        return;
      case Answer.UpdateMessage:
        if (given.on !== undefined) given.original = messages.edit(given.on, data, uploads);
        return;
      case Answer.ApplicationCommandAutocompleteResult:
        given.choices = data.choices ?? [];
        return;
      case Answer.Modal:
        given.modal = data as unknown as Modal;
        return;
      case Answer.Pong:
      case Answer.PremiumRequired:
      case Answer.LaunchActivity:
        throw new Error(`A bot on a gateway gives no answer of type ${type}.`);
    }
  }

  #post(given: Given, body: MessageBody, uploads: readonly Upload[], extra: Partial<APIMessage>): Said {
    const { messages, bot, applicationId } = this.hub();
    const ephemeral = ((body.flags ?? 0) & MessageFlags.Ephemeral) !== 0;
    const metadata = {
      id: given.id,
      type: given.kind,
      user: given.user,
      authorizing_integration_owners: {},
      ...(given.kind === Kind.ApplicationCommand ? { name: given.name } : {}),
      ...(given.on === undefined ? {} : { interacted_message_id: given.on.id }),
    };
    return messages.post({
      channel: given.channel,
      author: bot,
      body,
      uploads,
      onlyFor: ephemeral ? given.user.id : undefined,
      extra: {
        webhook_id: applicationId,
        application_id: applicationId,
        interaction_metadata: metadata as unknown as NonNullable<APIMessage['interaction_metadata']>,
        ...extra,
      },
    });
  }
}

/** Which answers fit which kind; what does not is a bad form. */
function refuseUnfit(given: Given, type: Answer): void {
  const completing = given.kind === Kind.ApplicationCommandAutocomplete;
  const onMessage = given.on !== undefined;
  const fits: Partial<Record<Answer, boolean>> = {
    [Answer.ChannelMessageWithSource]: !completing,
    [Answer.DeferredChannelMessageWithSource]: !completing,
    [Answer.DeferredMessageUpdate]: onMessage,
    [Answer.UpdateMessage]: onMessage,
    [Answer.ApplicationCommandAutocompleteResult]: completing,
    [Answer.Modal]: !completing && given.kind !== Kind.ModalSubmit,
  };
  if (fits[type] !== true) {
    const message = `An answer of type ${type} does not fit an interaction of type ${given.kind}.`;
    throw badForm([{ path: ['type'], code: 'INTERACTION_CALLBACK_TYPE_INVALID', message }]);
  }
}
