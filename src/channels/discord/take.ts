/** A tap is kept in the store before it is acknowledged, and goes from there when it is done: an end in between loses none. */
import type {
  APIChatInputApplicationCommandInteraction,
  APIInteractionResponse,
  APIMessageComponentInteraction,
  APIModalSubmitInteraction,
} from 'discord.js';
import type { Inbox, KeptTap } from '../../message/inbox.js';
import { acknowledge } from './acknowledge.js';
import type { Bot } from './bot-parts.js';
import { tappedOf, userOf } from './tapped.js';

export type Interaction =
  APIMessageComponentInteraction | APIModalSubmitInteraction | APIChatInputApplicationCommandInteraction;

/** How often a tap is begun again that never came to its end. */
const MOST_STARTS = 3;
/** For so long Discord may tell the same tap again, in milliseconds. */
const REMEMBERED_MS = 3_600_000;

export class Taken {
  private readonly again = new Set<string>();
  private batch: { readonly tap: KeptTap; readonly settle: (is: boolean | Error) => void }[] = [];

  constructor(
    private readonly inbox: Inbox,
    private readonly now: () => Date,
  ) {}

  /** Once it is on the disk: whether it is to be worked on, or was heard before. All of one moment in one commit. */
  keep(i: Interaction): Promise<boolean> {
    if (this.again.delete(i.id)) return Promise.resolve(true);
    const tap = { id: i.id, person: userOf(i).id, body: JSON.stringify(slim(i)) };
    return new Promise((resolve, reject) => {
      const settle = (is: boolean | Error): void => (is instanceof Error ? reject(is) : resolve(is));
      if (this.batch.push({ tap, settle }) === 1) setImmediate(() => this.flush());
    });
  }

  done(id: string): void {
    this.inbox.done(id);
  }

  /** What an earlier process left undone; one that was begun again too often is left out. */
  undone(mine: (guild: string | null) => boolean): Interaction[] {
    const out: Interaction[] = [];
    for (const { id, body, starts } of this.inbox.undone()) {
      const i = JSON.parse(body) as Interaction;
      if (!mine(i.guild_id ?? null)) continue;
      if (starts >= MOST_STARTS) {
        this.inbox.done(id);
        continue;
      }
      this.inbox.beginAgain(id);
      this.again.add(id);
      out.push(i);
    }
    return out;
  }

  forget(): void {
    this.inbox.forget(new Date(this.now().getTime() - REMEMBERED_MS).toISOString());
  }

  private flush(): void {
    const batch = this.batch.splice(0);
    try {
      const taps = batch.map(({ tap }) => tap);
      const fresh = new Set(this.inbox.keep(taps, this.now().toISOString()));
      // of one that was told twice in one moment the first counts
      for (const { tap, settle } of batch) settle(fresh.delete(tap.id));
    } catch (error) {
      for (const { settle } of batch) settle(error as Error);
    }
  }
}

/** Of an interaction what is read of it: not the message that it stands on, nor the server. */
function slim(i: Interaction): object {
  const { id, application_id, type, token, data, guild_id, channel, member, user } = i;
  const place = channel && {
    id: channel.id,
    type: channel.type,
    ...('parent_id' in channel ? { parent_id: channel.parent_id } : {}),
  };
  const on = 'message' in i && i.message ? { id: i.message.id, channel_id: i.message.channel_id } : undefined;
  const who = member && { user: member.user, roles: member.roles };
  return { id, application_id, type, token, data, guild_id, channel: place, member: who, user, message: on };
}

/** Kept, then acknowledged. `known`: this very tap was heard before, and is left alone. */
export async function take(
  bot: Bot,
  i: Interaction,
  body: APIInteractionResponse,
): Promise<'in-time' | 'late' | 'known'> {
  return bot.work.acknowledging(async () => {
    if (!(await bot.taken.keep(i))) return 'known';
    return (await acknowledge(bot.rest, tappedOf(bot, i), body)) ? 'in-time' : 'late';
  });
}
