/**
 * Whose message is next, where many write at once: persons take turns, whatever one of them sends. One who sends more
 * than can wait is told so once, and what is beyond is left out, but never what is urgent. Pure: the time comes in, and
 * nothing is started here.
 */

export interface Limits {
  /** messages of one person that may wait */
  readonly waiting: number;
  /** messages of one person that are taken up in a minute */
  readonly perMinute: number;
}

/** `full`: left out, and the person is to be told; `dropped`: left out, and they were told already. */
export type Taken = 'waits' | 'full' | 'dropped';

interface Line<T> {
  readonly items: { readonly item: T; readonly urgent: boolean }[];
  /** when messages of the last minute were taken up, ms since 1970 */
  taken: number[];
  told: boolean;
}

const MINUTE = 60_000;
const NOBODY: ReadonlySet<string> = new Set();

export class FairQueue<T> {
  /** by person, the one whose turn is next first */
  private readonly lines = new Map<string, Line<T>>();
  private urgentOnes = 0;

  constructor(private readonly limits: Limits) {}

  /** @param urgent a message of danger: it goes before the person's others, and is never left out */
  add(person: string, item: T, urgent: boolean): Taken {
    const line = this.lines.get(person) ?? { items: [], taken: [], told: false };
    this.lines.set(person, line);
    if (urgent) {
      this.urgentOnes += 1;
      line.items.splice(line.items.filter((i) => i.urgent).length, 0, { item, urgent });
      return 'waits';
    }
    if (line.items.length >= this.limits.waiting) {
      const taken = line.told ? 'dropped' : 'full';
      line.told = true;
      return taken;
    }
    line.items.push({ item, urgent });
    return 'waits';
  }

  /**
   * The next message, or null where none may be taken up now; urgent ones go before all others.
   * @param busy persons whose message before is not done yet
   */
  next(now: number, busy: ReadonlySet<string> = NOBODY): { readonly person: string; readonly item: T } | null {
    for (const urgent of this.urgentOnes > 0 ? [true, false] : [false])
      for (const [person, line] of this.lines) {
        if (busy.has(person)) continue;
        line.taken = line.taken.filter((at) => at > now - MINUTE);
        const first = line.items[0];
        if (!first || (urgent ? !first.urgent : line.taken.length >= this.limits.perMinute)) continue;
        line.items.shift();
        if (first.urgent) this.urgentOnes -= 1;
        line.taken.push(now);
        // to the end of the round
        this.lines.delete(person);
        if (line.items.length < this.limits.waiting) line.told = false;
        this.lines.set(person, line);
        return { person, item: first.item };
      }
    this.forget();
    return null;
  }

  /** When `next` is worth asking again, ms since 1970, or null where nothing waits. */
  nextAt(now: number, busy: ReadonlySet<string> = NOBODY): number | null {
    const times = [...this.lines]
      .filter(([person, line]) => line.items.length > 0 && !busy.has(person))
      .map(([, { items, taken }]) => {
        const recent = taken.filter((at) => at > now - MINUTE);
        const [oldest] = recent.slice(-this.limits.perMinute);
        return items[0]?.urgent || oldest === undefined || recent.length < this.limits.perMinute
          ? now
          : oldest + MINUTE;
      });
    return times.length > 0 ? Math.min(...times) : null;
  }

  /** Who has nothing waiting and took nothing lately is not kept. */
  private forget(): void {
    for (const [person, line] of this.lines)
      if (line.items.length === 0 && line.taken.length === 0) this.lines.delete(person);
  }
}
