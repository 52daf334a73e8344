// Trouble on demand, by route and count: what goes wrong with the next requests. It never touches what they would do.

import { routeNames } from './routes.js';

/** What happens to one request. */
export type Trouble =
  /** 429; the request has no effect. Seconds in the Retry-After header. */
  | { readonly kind: 'limited'; readonly retryAfter: number; readonly global: boolean }
  /** An answer with this status and no JSON; the request has no effect. */
  | { readonly kind: 'status'; readonly status: number }
  /** It has its effect; the answer comes only when `until` settles. */
  | { readonly kind: 'held'; readonly until: Promise<void> }
  /** The socket is destroyed before or after the effect. */
  | { readonly kind: 'dropped'; readonly when: 'before' | 'after' };

interface Planned {
  readonly route: string;
  left: number;
  readonly trouble: Trouble;
}

export class Faults {
  #planned: Planned[] = [];
  /** True: every authorised request and every IDENTIFY is refused, as after the token was revoked. */
  revoked = false;

  /** 429 with Retry-After. `global`: all routes of the client have to wait. */
  limit(route: string, { retryAfter = 0.1, global = false, times = 1 } = {}): void {
    this.#plan(route, times, { kind: 'limited', retryAfter, global });
  }

  /** A failing server: 500, 502, 503; `times: Infinity` until `clear`. */
  fail(route: string, { status = 500, times = 1 } = {}): void {
    this.#plan(route, times, { kind: 'status', status });
  }

  /** Holds the answers back, after the effect, until the function that is returned is called. */
  hold(route: string, { times = 1 } = {}): () => void {
    let release = (): void => undefined;
    const until = new Promise<void>((resolve) => (release = resolve));
    this.#plan(route, times, { kind: 'held', until });
    return release;
  }

  /** Destroys the socket, before or after the effect. */
  drop(route: string, { when, times = 1 }: { when: 'before' | 'after'; times?: number }): void {
    this.#plan(route, times, { kind: 'dropped', when });
  }

  clear(): void {
    this.#planned = [];
    this.revoked = false;
  }

  /** The trouble planned for a request on this route, and uses it up. */
  next(route: string): Trouble | undefined {
    const found = this.#planned.find((p) => p.left > 0 && (p.route === route || p.route === '*'));
    if (found !== undefined) found.left -= 1;
    return found?.trouble;
  }

  /** Routes are named as in the table, or '*' for all. */
  #plan(route: string, times: number, trouble: Trouble): void {
    if (route !== '*' && !routeNames().includes(route)) {
      throw new Error(`There is no route '${route}'. There are:\n${routeNames().join('\n')}`);
    }
    this.#planned.push({ route, left: times, trouble });
  }
}
