/** What was tapped on a chat server, kept before it is acknowledged there: an end in between loses nothing. */

export interface KeptTap {
  /** the chat server's own id of the tap */
  readonly id: string;
  /** the chat server's id of the person */
  readonly person: string;
  readonly body: string;
}

export interface Inbox {
  /** Keeps them in one commit. Gives those that were not known before; the same id again changes nothing. */
  readonly keep: (taps: readonly KeptTap[], at: string) => ReadonlySet<string>;
  /** Its body is blanked; its id is remembered, since a chat server may tell the same tap twice. */
  readonly done: (id: string) => void;
  /** What is not done, the oldest first, and how often it was begun again. */
  readonly undone: () => (KeptTap & { readonly starts: number })[];
  readonly beginAgain: (id: string) => void;
  /** Forgets what was done before then. */
  readonly forget: (before: string) => void;
}
