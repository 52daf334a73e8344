// The routes of interactions: the callback, and the webhook that lives for 15 minutes after it.

import type { InteractionResponseType } from 'discord.js';
import { callbackFaults, messageFaults } from './hand-rules.js';
import type { Route } from './hub.js';
import type { AnswerData } from './interactions.js';

const callback: Route = {
  name: 'POST /interactions/:interaction/:token/callback',
  open: true,
  schema: 'InteractionCallback',
  rules: callbackFaults,
  handle({ params, query, body, uploads, at }, { interactions }) {
    const wish = body as { type?: InteractionResponseType; data?: AnswerData };
    const type = wish.type as InteractionResponseType;
    const data = wish.data ?? null;
    const given = interactions.answer(params['interaction'] ?? '', params['token'] ?? '', { type, data, at }, uploads);
    if (query.get('with_response') !== 'true') return { status: 204 };
    const message = given.original?.api;
    const ids = message === undefined ? {} : { response_message_id: message.id };
    const flags = message?.flags ?? 0;
    return {
      status: 200,
      body: {
        interaction: {
          id: given.id,
          type: given.kind,
          response_message_loading: (flags & 128) !== 0,
          response_message_ephemeral: (flags & 64) !== 0,
          ...ids,
        },
        resource: { type, ...(message === undefined ? {} : { message }) },
      },
    };
  },
};

const followUp: Route = {
  name: 'POST /webhooks/:application/:token',
  open: true,
  schema: 'IncomingWebhookRequestPartial',
  rules: messageFaults,
  handle({ params, body, uploads }, { interactions }) {
    const given = interactions.behind(params['token'] ?? '');
    return { status: 200, body: interactions.followUp(given, body, uploads).api };
  },
};

const read: Route = {
  name: 'GET /webhooks/:application/:token/messages/:message',
  open: true,
  schema: false,
  handle({ params }, { interactions }) {
    const given = interactions.behind(params['token'] ?? '');
    return { status: 200, body: interactions.message(given, params['message'] ?? '').api };
  },
};

const change: Route = {
  name: 'PATCH /webhooks/:application/:token/messages/:message',
  open: true,
  schema: 'IncomingWebhookUpdateRequestPartial',
  rules: messageFaults,
  handle({ params, body, uploads }, { interactions, messages }) {
    const given = interactions.behind(params['token'] ?? '');
    const said = interactions.message(given, params['message'] ?? '');
    return { status: 200, body: messages.edit(said, body, uploads).api };
  },
};

const remove: Route = {
  name: 'DELETE /webhooks/:application/:token/messages/:message',
  open: true,
  schema: false,
  handle({ params }, { interactions, messages }) {
    const given = interactions.behind(params['token'] ?? '');
    messages.remove(interactions.message(given, params['message'] ?? ''));
    return { status: 204 };
  },
};

export const answering: readonly Route[] = [callback, followUp, read, change, remove];
