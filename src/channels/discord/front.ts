/**
 * The bot: one more channel. It turns what happens on a Discord server into messages of a case, and posts what the
 * outbox holds, each room in its order and each post once. It decides nothing about freezers, keeps nothing in its own
 * memory that a restart would miss, and reaches the case only through what it is handed here.
 */
import type { Knowledge, Role, Words } from '../../knowledge/facts.js';
import type { Inbox } from '../../message/inbox.js';
import type { ReadingIn } from '../../message/incoming.js';
import type { Answer } from '../../message/outgoing.js';
import type { Posts } from '../../message/post.js';
import type { Rooms } from '../../message/room.js';
import type { Picture } from '../../pictures/picture.js';
import type { Handle } from '../stdio.js';
import type { Log } from './log.js';

type Slots = Readonly<Record<string, string | number>>;

export type DeskAct =
  | { readonly act: 'claim' }
  | { readonly act: 'ask'; readonly text: string }
  | { readonly act: 'hand-back'; readonly text: string | null }
  | { readonly act: 'close'; readonly cause: string; readonly fixed: string | null; readonly parts: string | null }
  | { readonly act: 'clear'; readonly hazard: string };

/** What the bot needs of the case, the store and the settings. */
export interface Front {
  readonly knowledge: Knowledge;
  readonly say: (words: Words, key: string, slots?: Slots) => string;
  readonly log: Log;
  readonly now: () => Date;
  readonly handle: Handle;
  readonly rooms: Rooms;
  readonly posts: Posts;
  readonly inbox: Inbox;
  readonly caseOf: (conversation: string) => string | null;
  readonly lastAnswer: (caseId: string) => Answer | null;
  /** whether this message or tap was taken already */
  readonly taken: (caseId: string, messageId: string) => boolean;
  /** the words of a message that was taken; null where they were deleted, or were none */
  readonly textOf: (caseId: string, messageId: string) => string | null;
  /** whether these words tell of a danger: they are heard before all others */
  readonly isUrgent: (text: string, role: Role) => boolean;
  /** a number typed for one reading, or what is wrong with it */
  readonly measured: (
    reading: string,
    value: string,
    at: string,
  ) => { readonly ok: true; readonly reading: ReadingIn } | { readonly ok: false; readonly message: string };
  /** one reading judged outside of any case */
  readonly judged: (
    args: readonly string[],
    role: Role,
  ) =>
    | { readonly ok: true; readonly text: string; readonly picture: Picture | null }
    | { readonly ok: false; readonly message: string };
  readonly summary: (caseId: string, words: Words) => string | null;
  /** from now on this conversation speaks in that case; false where there is none */
  readonly takeUp: (code: string, conversation: string) => boolean;
  /** an act of the desk, once for each tap */
  readonly act: (
    caseId: string,
    act: DeskAct,
    by: string,
    tap: string,
  ) => { readonly ok: true; readonly message: string } | { readonly ok: false; readonly message: string };
  /** cases that have something to say by this moment */
  readonly due: (until: string) => readonly string[];
  /** who speaks, by the roles of the server */
  readonly roles: { readonly technician: string | null; readonly senior: string | null };
  readonly guild: string;
  readonly deskChannel: string | null;
}

/** The room of the technicians' channel among the outbox's rooms. */
export const DESK_ROOM = 'desk';

export function roleOf({ roles }: Pick<Front, 'roles'>, of: readonly string[]): Role {
  if (roles.senior !== null && of.includes(roles.senior)) return 'senior';
  return roles.technician !== null && of.includes(roles.technician) ? 'technician' : 'homeowner';
}
