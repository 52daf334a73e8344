/** Who tapped, and what an answer to the tap needs. */
import type { APIUser } from 'discord.js';
import type { Tapped } from './acknowledge.js';
import type { Bot } from './bot-parts.js';

interface Interaction {
  readonly member?: { readonly user: APIUser };
  readonly user?: APIUser;
}

export function userOf({ member, user }: Interaction): APIUser {
  const one = member?.user ?? user;
  if (!one) throw new Error('an interaction came without its person');
  return one;
}

export const tappedOf = ({ application }: Bot, { id, token }: { id: string; token: string }): Tapped => ({
  id,
  token,
  application,
});
