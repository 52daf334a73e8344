/** Empties the outbox: every room in its order, many rooms at once, with patience while Discord is in trouble. */
import type { Post } from '../../message/post.js';
import { KINDS } from './answer-posts.js';
import { DESK_ROOM } from './front.js';
import { CODES, troubleOf } from './outcome.js';
import { send, type Sender } from './send.js';

const MOST_ROOMS = 60;

/** How long it waits before a post is tried again, in milliseconds. */
export interface Patience {
  /** after the first failure; doubled with each further one */
  readonly first: number;
  readonly longest: number;
  /** an escalation that Discord refuses goes on being tried: somebody may mend the channel */
  readonly refused: number;
}
const PATIENCE: Patience = { first: 500, longest: 60_000, refused: 60_000 };

export class Delivery {
  private readonly busy = new Map<string, Promise<void>>();
  private stopped = false;

  /**
   * @param mine whether this process speaks in this room
   * @param onDismissed the token is not accepted any more
   */
  constructor(
    private readonly sender: Sender,
    private readonly mine: (room: string) => boolean,
    private readonly onDismissed: () => void,
    private readonly patience: Patience = PATIENCE,
  ) {}

  /** Looks at what waits, or at one room alone; returns at once. */
  kick(room?: string): void {
    if (this.stopped) return;
    const { posts, now } = this.sender.front;
    const ready = room === undefined ? posts.ready(now().toISOString()) : [room];
    for (const each of ready) {
      if (this.busy.size >= MOST_ROOMS) return;
      if (this.busy.has(each) || !this.mine(each)) continue;
      const work = this.empty(each)
        .catch((error: unknown) => this.sender.front.log.error({ err: error, room: each }, 'delivery failed'))
        .finally(() => {
          this.busy.delete(each);
          // those that waited for a place among the busy
          if (this.busy.size === MOST_ROOMS - 1) setImmediate(() => this.kick());
        });
      this.busy.set(each, work);
    }
  }

  /** Waits until this room has nothing to send at once. */
  async settled(room: string): Promise<void> {
    this.kick(room);
    await this.busy.get(room);
  }

  /** Sends what can be sent until then (ms since 1970), and stops. */
  async flush(until: number): Promise<void> {
    while (Date.now() < until) {
      this.kick();
      if (this.busy.size === 0) break;
      const left = new Promise((resolve) => setTimeout(resolve, Math.max(0, until - Date.now())).unref());
      await Promise.race([Promise.all(this.busy.values()), left]);
    }
    this.stopped = true;
  }

  private async empty(room: string): Promise<void> {
    const { front } = this.sender;
    for (;;) {
      const post = front.posts.next(room);
      if (!post || this.stopped) return;
      if (post.nextAt !== null && post.nextAt > front.now().toISOString()) return;
      if (!(await this.deliver(post))) return;
    }
  }

  /** Whether the room may go on. */
  private async deliver(post: Post): Promise<boolean> {
    const { front } = this.sender;
    const started = front.now();
    // written before the request leaves: a process that dies now leaves the outcome unknown
    front.posts.trying(post.id, post.triedAt ?? started.toISOString());
    try {
      const message = await send(this.sender, post);
      front.posts.sent(post, message, front.now().toISOString(), post.kind === KINDS.desk);
      return true;
    } catch (error) {
      const trouble = troubleOf(error);
      const wait = Math.min(this.patience.longest, this.patience.first * 2 ** Math.min(post.tries, 10));
      const at = (ms: number): string => new Date(front.now().getTime() + ms).toISOString();
      switch (trouble.kind) {
        case 'dismissed':
          front.posts.again(post.id, at(0), post.triedAt);
          this.onDismissed();
          return false;
        case 'later':
          front.posts.again(post.id, at(wait), post.triedAt);
          return false;
        case 'unknown':
          front.log.warn({ err: error, post: post.id, tries: post.tries + 1 }, 'a post may not have arrived');
          front.posts.again(post.id, at(wait), post.triedAt ?? started.toISOString());
          return false;
        case 'refused':
          front.log.error({ err: error, post: post.id, room: post.room }, 'Discord refuses a post');
          if (post.room === DESK_ROOM && trouble.code !== CODES.unknownMessage && !isForm(trouble.code)) {
            front.posts.again(post.id, at(this.patience.refused), post.triedAt);
            return false;
          }
          front.posts.failed(post.id, `${trouble.code} ${trouble.why}`, front.now().toISOString());
          return true;
      }
    }
  }
}

const isForm = (code: number | string): boolean => Number(code) === 50035;
