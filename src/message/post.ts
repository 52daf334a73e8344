/** What is to be delivered, kept until it is: a page to write, or a post in a room of a chat server. */

/** Something to be delivered; with a room it is a post there, in order with the others. */
export interface Outgoing {
  readonly id: string;
  readonly kind: string;
  readonly body: string;
  readonly room?: string;
  /** what this post asks, or that it asks nothing: the latest one of a room is the one that can be answered */
  readonly ask?: string;
}

/** A post that waits. */
export interface Post {
  readonly id: string;
  readonly caseId: string;
  readonly room: string;
  readonly kind: string;
  readonly body: string;
  readonly tries: number;
  /** since when its outcome is unknown, or null where nothing was tried or the refusal was plain */
  readonly triedAt: string | null;
  /** before when it is not tried again */
  readonly nextAt: string | null;
  /** where it is posted already: then it is to be changed there */
  readonly message: string | null;
}

export interface Posts {
  /** rooms whose first post may be sent by this time */
  readonly ready: (now: string) => string[];
  readonly next: (room: string) => Post | null;
  /** when something that waits may be sent next, or null */
  readonly nextAt: () => string | null;
  /** Marks that it is being sent: from now on its outcome is unknown. */
  readonly trying: (id: string, at: string) => void;
  /** Posted; where the body was renewed meanwhile it goes on waiting. `keep` false blanks a body that is never needed again. */
  readonly sent: (post: Post, message: string | null, at: string, keep: boolean) => void;
  readonly again: (id: string, nextAt: string, triedAt: string | null) => void;
  /** Given up, with the reason. */
  readonly failed: (id: string, why: string, at: string) => void;
  /** One outside of a turn; the same id again changes nothing. */
  readonly add: (caseId: string, channel: string, at: string, item: Outgoing & { readonly room: string }) => void;
  readonly find: (
    id: string,
  ) => { readonly room: string; readonly ask: string | null; readonly message: string | null } | null;
  /** the post of this room whose question can be answered now */
  readonly asking: (room: string) => { readonly id: string; readonly ask: string } | null;
}
