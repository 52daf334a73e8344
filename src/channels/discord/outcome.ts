/** What an attempt at Discord came to: plainly refused, to be tried again, or unknown, because no answer came back. */
import { DiscordAPIError, HTTPError, RateLimitError } from 'discord.js';

export type Trouble =
  /** the token is not accepted any more */
  | { readonly kind: 'dismissed' }
  /** Discord says no to this very thing, and would again */
  | { readonly kind: 'refused'; readonly code: number | string; readonly why: string }
  /** nothing was done; later it may go */
  | { readonly kind: 'later' }
  /** it may have been done */
  | { readonly kind: 'unknown' };

export function troubleOf(error: unknown): Trouble {
  if (error instanceof DiscordAPIError) {
    const { status, code, message } = error;
    if (status === 401 && code !== UNKNOWN_WEBHOOK_TOKEN) return { kind: 'dismissed' };
    return status === 429 ? { kind: 'later' } : { kind: 'refused', code, why: message };
  }
  if (error instanceof RateLimitError) return { kind: 'later' };
  // 5xx: some of Discord's servers answer so after the work is done
  if (error instanceof HTTPError) return { kind: 'unknown' };
  const { message = '', code = '' } = error as { message?: string; code?: string };
  if (message.startsWith('Expected token to be set')) return { kind: 'dismissed' };
  return code === 'ECONNREFUSED' || code === 'ENOTFOUND' || code === 'EAI_AGAIN'
    ? { kind: 'later' }
    : { kind: 'unknown' };
}

const UNKNOWN_WEBHOOK_TOKEN = 50027;

export const CODES = {
  unknownChannel: 10003,
  unknownMessage: 10008,
  unknownInteraction: 10062,
  missingAccess: 50001,
  missingPermissions: 50013,
  archived: 50083,
  acknowledged: 40060,
} as const;

export const isCode = (error: unknown, code: number): boolean =>
  error instanceof DiscordAPIError && Number(error.code) === code;
