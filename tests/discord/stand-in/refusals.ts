// How Discord says no: status, code and message, as documented (developers/topics/opcodes-and-status-codes.mdx).

/** One fault of a form: where in the body, and what is wrong there. */
export interface FormFault {
  /** Keys and indexes from the body's top: ['components', '0', 'custom_id']. */
  readonly path: readonly string[];
  readonly code: string;
  readonly message: string;
}

/** A request that Discord would refuse; becomes the response. */
export class Refusal extends Error {
  constructor(
    readonly status: number,
    readonly code: number,
    message: string,
    readonly faults: readonly FormFault[] = [],
  ) {
    super(message);
  }

  /** The body of the response. */
  body(): Record<string, unknown> {
    const said = { message: this.message, code: this.code };
    return this.faults.length === 0 ? said : { ...said, errors: tree(this.faults) };
  }
}

function tree(faults: readonly FormFault[]): Record<string, unknown> {
  const top: Record<string, unknown> = {};
  for (const { path, code, message } of faults) {
    let at = top;
    for (const key of path) at = (at[key] ??= {}) as Record<string, unknown>;
    ((at['_errors'] ??= []) as unknown[]).push({ code, message });
  }
  return top;
}

export const badForm = (faults: readonly FormFault[]) => new Refusal(400, 50035, 'Invalid Form Body', faults);
export const unauthorized = () => new Refusal(401, 0, '401: Unauthorized');
export const unknownChannel = () => new Refusal(404, 10003, 'Unknown Channel');
export const unknownGuild = () => new Refusal(404, 10004, 'Unknown Guild');
export const unknownMember = () => new Refusal(404, 10007, 'Unknown Member');
export const unknownMessage = () => new Refusal(404, 10008, 'Unknown Message');
export const unknownUser = () => new Refusal(404, 10013, 'Unknown User');
export const unknownWebhook = () => new Refusal(404, 10015, 'Unknown Webhook');
export const unknownInteraction = () => new Refusal(404, 10062, 'Unknown interaction');
export const unknownCommand = () => new Refusal(404, 10063, 'Unknown application command');
export const tooLarge = () => new Refusal(413, 40005, 'Request entity too large');
export const acknowledged = () => new Refusal(400, 40060, 'Interaction has already been acknowledged.');
export const missingAccess = () => new Refusal(403, 50001, 'Missing Access');
export const notTheAuthor = () => new Refusal(403, 50005, 'Cannot edit a message authored by another user');
export const emptyMessage = () => new Refusal(400, 50006, 'Cannot send an empty message');
export const cannotDm = () => new Refusal(403, 50007, 'Cannot send messages to this user');
export const missingPermissions = () => new Refusal(403, 50013, 'Missing Permissions');
export const badWebhookToken = () => new Refusal(401, 50027, 'Invalid Webhook Token');
export const archivedThread = () => new Refusal(400, 50083, 'Thread is archived');
