/** What was written while nobody listened: after a start, and after each session that could not be resumed. */
import { Routes, type APIMessage, type APIThreadChannel } from 'discord.js';
import type { RoomOfCase } from '../../message/room.js';
import type { Bot } from './bot-parts.js';
import { onWritten, writtenBy } from './messages.js';
import { CODES, isCode, troubleOf } from './outcome.js';

const PAGE = 100;

export class CatchUp {
  private readonly behind = new Set<string>();
  private walking = false;

  constructor(
    private readonly bot: Bot,
    private readonly mine: (guild: string | null) => boolean,
  ) {}

  /** From now on the rooms of open cases are behind, until each is read. */
  begin(): Promise<void> {
    const rooms = this.bot.front.rooms.standing().filter((r) => this.mine(r.guild));
    for (const { place } of rooms) if (place !== null) this.behind.add(place);
    this.walking = true;
    return this.all(rooms).finally(() => (this.walking = false));
  }

  /** Before something is heard in a room, what was written there before is heard. */
  async first(place: string): Promise<void> {
    if (!this.behind.has(place)) return;
    const room = this.bot.front.rooms.at(place);
    if (room) await this.read(place, room.seen, room.guild);
    this.behind.delete(place);
  }

  /** What could not be read before. */
  again(): void {
    if (this.walking || this.behind.size === 0) return;
    this.walking = true;
    const read = (place: string): Promise<void> => this.bot.work.inOrder(place, () => this.first(place));
    void Promise.allSettled([...this.behind].slice(0, PAGE).map(read)).then(() => (this.walking = false));
  }

  private async all(rooms: readonly RoomOfCase[]): Promise<void> {
    const { work, front } = this.bot;
    const lasts = await this.lastMessages(new Set(rooms.flatMap((r) => r.guild ?? [])));
    for (const { place, guild, seen } of rooms) {
      if (place === null || !this.behind.has(place)) continue;
      const last = guild === null ? undefined : lasts.get(place);
      // an active thread tells its last message; one that is archived got none
      if (guild !== null && (last === undefined || last === null || last === seen)) {
        this.behind.delete(place);
        continue;
      }
      await work
        .inOrder(place, () => this.first(place))
        .catch((error: unknown) => front.log.warn({ err: error, place }, 'what was missed could not be read yet'));
    }
  }

  private async lastMessages(guilds: ReadonlySet<string>): Promise<Map<string, string | null | undefined>> {
    const out = new Map<string, string | null | undefined>();
    for (const guild of guilds) {
      const { threads } = (await this.bot.rest.get(Routes.guildActiveThreads(guild))) as {
        threads: APIThreadChannel[];
      };
      for (const { id, last_message_id: last } of threads) out.set(id, last);
    }
    return out;
  }

  private async read(place: string, seen: string | null, guild: string | null): Promise<void> {
    let after = seen ?? place;
    for (;;) {
      const query = new URLSearchParams({ after, limit: String(PAGE) });
      let page: APIMessage[];
      try {
        page = (await this.bot.rest.get(Routes.channelMessages(place), { query })) as APIMessage[];
      } catch (error) {
        if (isCode(error, CODES.unknownChannel) || isCode(error, CODES.missingAccess)) return;
        if (troubleOf(error).kind === 'refused')
          this.bot.front.log.warn({ err: error, place }, 'a room is not readable');
        throw error;
      }
      page.sort((a, b) => (BigInt(a.id) < BigInt(b.id) ? -1 : 1));
      for (const message of page) {
        const written = writtenBy(message, this.bot.self, guild);
        if (written) await onWritten(this.bot, written);
      }
      const last = page.at(-1);
      if (!last || page.length < PAGE) return;
      after = last.id;
    }
  }
}
