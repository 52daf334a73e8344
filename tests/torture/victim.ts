/**
 * Programs that people talk to, killed at random moments, and what must hold of the store afterwards. Nothing here knows
 * how a program is talked to: a victim does, so that another front end can be tormented in the same way.
 */

/** Something a person says, with an id that makes it the same message when it is said again. */
export interface Message {
  readonly id: string;
  readonly conversation: string;
  readonly from: { readonly id: string; readonly role: 'homeowner' | 'technician' };
  readonly said:
    | { readonly text: string }
    | { readonly answer: { readonly finding: string; readonly value: string | readonly string[] } }
    | { readonly reading: Readonly<Record<string, string | number>> };
}

export interface Alive {
  /** The answer as the person got it, or null where the program ended before it gave one. Answers come in order. */
  readonly say: (message: Message) => Promise<string | null>;
  /** Kills it at once and waits until it is gone. */
  readonly kill: () => Promise<void>;
  /** Lets it end by itself. */
  readonly end: () => Promise<void>;
}

export interface Victim {
  /** @param folder where the store is, `cases.db`, and what stands beside it */
  readonly start: (folder: string) => Alive;
  /** What a person gets to see of an answer as it is stored: what `say` gives. */
  readonly shown: (stored: string) => string;
  /** How often each item of the outbox, by its id, reached somebody; left out where it goes into a file beside the store. */
  readonly delivered?: () => ReadonlyMap<string, number>;
}
