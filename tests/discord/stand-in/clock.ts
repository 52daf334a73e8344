// The stand-in's time: the real one, or one that stands still, plus what a test has put it forward. Identifiers carry it, as Discord's do.

const DISCORD_EPOCH = 1_420_070_400_000n;

export class Clock {
  #ahead = 0;
  readonly #stopped: number | undefined;

  /** @param still true: time passes only by `advance`, so that a slow machine makes nothing late */
  constructor(still: boolean) {
    this.#stopped = still ? Date.now() : undefined;
  }

  /** Milliseconds since 1970. */
  now(): number {
    return (this.#stopped ?? Date.now()) + this.#ahead;
  }

  /** Puts the clock forward, e.g. past the 3 s of an acknowledgement or the 15 min of a token. */
  advance(milliseconds: number): void {
    this.#ahead += milliseconds;
  }

  iso(): string {
    return new Date(this.now()).toISOString().replace('Z', '+00:00');
  }
}

/** New snowflakes, each greater than the one before: 19 digits, so that rate-limit buckets know them for identifiers. */
export class Ids {
  #last = 0n;

  constructor(private readonly clock: Clock) {}

  next(): string {
    const fresh = (BigInt(this.clock.now()) - DISCORD_EPOCH) << 22n;
    this.#last = fresh > this.#last ? fresh : this.#last + 1n;
    return this.#last.toString();
  }
}
