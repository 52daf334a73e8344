/** Where cases are talked in on a chat server: a thread or a direct channel, whose case it is, what was read there last. */

export interface Room {
  /** the conversation's name: the id of the command or message that opened it */
  readonly conversation: string;
  /** the thread or direct channel; null until there is one */
  readonly place: string | null;
  /** null in a direct channel */
  readonly guild: string | null;
  /** the channel under which the thread is opened */
  readonly parent: string | null;
  /** the chat server's id of the person whose case it is */
  readonly owner: string;
  /** the name of that person in the case */
  readonly person: string;
  readonly role: string;
  /** the last message read there */
  readonly seen: string | null;
}

export interface RoomOfCase extends Room {
  readonly caseId: string;
  readonly status: string;
}

export interface Rooms {
  /** Opens it once: the same conversation again changes nothing. */
  readonly open: (room: Room, at: string) => void;
  readonly get: (conversation: string) => Room | null;
  /** the one of this thread or direct channel; of several the latest */
  readonly at: (place: string) => Room | null;
  readonly placed: (conversation: string, place: string) => void;
  /** Moves what was read on, never back. */
  readonly seen: (conversation: string, message: string) => void;
  /** rooms with a case that is not closed, and a place */
  readonly standing: () => RoomOfCase[];
  /** this person's rooms with a case, the latest first */
  readonly of: (owner: string) => RoomOfCase[];
  /** the latest room of a case */
  readonly ofCase: (caseId: string) => RoomOfCase | null;
  /** rooms of cases that changed since then, with news for the person whose case it is */
  readonly withNews: (since: string) => RoomOfCase[];
  /** the name by which a person is known, given once and kept */
  readonly nameOf: (id: string, name: string) => string;
  /** Blanks what one message said, in this case; false where the case has no such message. */
  readonly blank: (caseId: string, messageId: string) => boolean;
}
