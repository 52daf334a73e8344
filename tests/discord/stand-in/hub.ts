// What the parts of the stand-in know of each other. Types only.

import type { APIApplicationCommand, APIUser } from 'discord.js';
import type { Upload } from './body.js';
import type { Clock, Ids } from './clock.js';
import type { Gateway } from './gateway.js';
import type { Interactions } from './interactions.js';
import type { Messages } from './messages.js';
import type { Kept } from './record.js';
import type { FormFault } from './refusals.js';
import type { World } from './world.js';

export interface Hub {
  readonly clock: Clock;
  readonly ids: Ids;
  readonly world: World;
  readonly kept: Kept;
  readonly gateway: Gateway;
  readonly messages: Messages;
  readonly interactions: Interactions;
  readonly bot: APIUser;
  readonly applicationId: string;
  /** Commands by scope: a guild's id, or 'global'. */
  readonly commands: Map<string, APIApplicationCommand[]>;
  /** Whether MESSAGE_CONTENT is switched on for the application. */
  readonly contentAllowed: boolean;
  /** 'http://127.0.0.1:PORT' */
  readonly origin: () => string;
}

/** One request, read and found in the table. */
interface Call {
  readonly params: Readonly<Record<string, string>>;
  readonly query: URLSearchParams;
  readonly body: Readonly<Record<string, unknown>>;
  readonly uploads: readonly Upload[];
  /** When it had arrived, by the stand-in's clock. */
  readonly at: number;
}

export interface Reply {
  readonly status: number;
  readonly body?: unknown;
}

export interface Route {
  /** 'POST /channels/:channel/messages' */
  readonly name: string;
  /** Interaction callbacks and webhooks carry their token in the path. */
  readonly open?: boolean;
  /** The body's schema in Discord's description; false: no body is expected. */
  readonly schema: string | false;
  /** Rules that the description lacks. */
  readonly rules?: (body: unknown, uploads: readonly Upload[]) => FormFault[];
  readonly handle: (call: Call, hub: Hub) => Reply;
}
