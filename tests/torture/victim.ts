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
    | { readonly reading: Readonly<Record<string, string | number>> }
    /** the first choice of whatever is asked now */
    | { readonly tap: true };
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
  /**
   * How often an item of the outbox reached somebody; null where it is no message of its own. Left out where items go
   * into files beside the store.
   */
  readonly delivered?: (item: Item) => number | null;
  /** The ids by which the store may know a message, where the front end gives ids of its own: one for each time it was said. */
  readonly saidAs?: (id: string) => readonly string[];
  /** How long it takes to be at work, in ms: early kills fall within. */
  readonly startMs: number;
  /** Whether two of them may work on one store. */
  readonly pairs: boolean;
  /** The n-th message of one teller. */
  readonly messageOf: (teller: string, n: number) => Message;
}

export interface Item {
  readonly id: string;
  readonly caseId: string;
  readonly kind: string;
  /** why it was given up */
  readonly failed: string | null;
}

/** What the store holds for a message, of all ids that it was said by. */
export const keptAs = <T>({ saidAs }: Victim, stored: ReadonlyMap<string, T>, id: string): T[] =>
  (saidAs?.(id) ?? [id]).flatMap((each) => stored.get(each) ?? []);
