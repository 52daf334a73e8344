/**
 * Who waits for whom: persons take turns, what belongs to one place goes in order, and a turn of a case waits while taps
 * are acknowledged.
 */
import { FairQueue, type Limits } from '../fair-queue.js';

/** A turn is not put off for longer than this, in milliseconds. */
const PATIENCE_MS = 50;

/** So many persons are answered at once; the others wait their turn. */
const MOST_AT_ONCE = 50;
const LIMITS: Limits = { waiting: 10, perMinute: 60 };

interface Job {
  readonly place: string;
  readonly run: () => Promise<void>;
  readonly settle: (went: Went) => void;
}

/**
 * `full`: left out, since this person sends too much, and to be told so; `dropped`: left out, and told already; `left`:
 * the process ends, and the next one finds it.
 */
export type Went = 'done' | 'full' | 'dropped' | 'left';

export class Work {
  private readonly queue: FairQueue<Job>;
  private readonly heard = new Set<string>();
  private readonly waiting = new Set<Job>();
  private closing = false;
  private wake: NodeJS.Timeout | undefined;
  private readonly begun = new Set<Promise<unknown>>();
  private readonly lines = new Map<string, Promise<unknown>>();
  private unacknowledged = 0;
  private drained: (() => void)[] = [];
  private turns: Promise<unknown> = Promise.resolve();

  constructor(limits: Limits = LIMITS) {
    this.queue = new FairQueue(limits);
  }

  /** What a person said or tapped, when it is their turn, in its place's order. Rejects where the job does. */
  hear(person: string, { urgent, place }: { urgent: boolean; place: string }, job: () => Promise<void>): Promise<Went> {
    return new Promise((resolve, reject) => {
      const item: Job = { place, run: () => job().then(() => resolve('done'), reject), settle: resolve };
      const taken = this.queue.add(person, item, urgent);
      if (taken !== 'waits') return resolve(taken);
      this.waiting.add(item);
      this.nextTurn();
    });
  }

  /** Nothing more is begun than what may be begun at once. */
  close(): void {
    this.closing = true;
    this.nextTurn();
  }

  private nextTurn(): void {
    while (this.heard.size < MOST_AT_ONCE) {
      const next = this.queue.next(Date.now(), this.heard);
      if (!next) break;
      const { person, item } = next;
      this.heard.add(person);
      this.waiting.delete(item);
      void this.inOrder(item.place, item.run).then(() => {
        this.heard.delete(person);
        this.nextTurn();
      });
    }
    clearTimeout(this.wake);
    if (this.closing) {
      if (this.heard.size === 0) for (const item of this.waiting) item.settle('left');
      return;
    }
    const mayBegin = this.waiting.size > 0 && this.heard.size < MOST_AT_ONCE;
    const at = mayBegin ? this.queue.nextAt(Date.now(), this.heard) : null;
    if (at !== null) this.wake = setTimeout(() => this.nextTurn(), Math.max(1, at - Date.now())).unref();
  }

  /** Something that was heard: it is waited for at the end. */
  begin(job: Promise<unknown>): void {
    this.begun.add(job);
    void job.finally(() => this.begun.delete(job));
  }

  /** After everything that was begun for this place before. */
  inOrder(place: string, job: () => Promise<void>): Promise<void> {
    const before = this.lines.get(place) ?? Promise.resolve();
    const line = before.then(job, job);
    this.lines.set(place, line);
    const clear = (): void => void (this.lines.get(place) === line && this.lines.delete(place));
    line.then(clear, clear);
    return line;
  }

  /** One at a time; each takes milliseconds, in which nothing else is heard. */
  turn<T>(job: () => T): Promise<T> {
    const next = this.turns.then(async () => {
      await new Promise(setImmediate);
      if (this.unacknowledged > 0) await this.quiet();
      return job();
    });
    this.turns = next.catch(() => undefined);
    return next;
  }

  async acknowledging<T>(ack: () => Promise<T>): Promise<T> {
    this.unacknowledged += 1;
    try {
      return await ack();
    } finally {
      this.unacknowledged -= 1;
      if (this.unacknowledged === 0) for (const done of this.drained.splice(0)) done();
    }
  }

  /** Until everything that was begun is done. */
  async idle(): Promise<void> {
    while (this.lines.size + this.begun.size > 0) await Promise.allSettled([...this.lines.values(), ...this.begun]);
    await this.turns;
  }

  private quiet(): Promise<void> {
    return new Promise((resolve) => {
      const late = setTimeout(resolve, PATIENCE_MS);
      this.drained.push(() => (clearTimeout(late), resolve()));
    });
  }
}
