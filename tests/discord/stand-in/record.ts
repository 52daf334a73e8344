// What happened, for a test to look at: every request, every interaction, every fault of a form. It never decides.

import type { FormFault } from './refusals.js';
import type { Upload } from './body.js';

export interface RequestKept {
  /** The route as in the table: 'POST /channels/:channel/messages'; undefined where there is none. */
  readonly route: string | undefined;
  readonly method: string;
  /** The path as it came, without /api/v10, with its query. */
  readonly path: string;
  readonly body: unknown;
  readonly uploads: readonly Upload[];
  /** Milliseconds since 1970 by the stand-in's clock, when the request had arrived whole. */
  readonly at: number;
  /** The status answered; undefined while it is held back, or when the socket was destroyed instead. */
  status?: number;
  /** Discord's code, where it was refused. */
  code?: number;
}

/** A request that broke Discord's description or one of the rules written by hand. */
export interface FormFailure {
  readonly request: RequestKept;
  readonly faults: readonly FormFault[];
}

export class Kept {
  readonly requests: RequestKept[] = [];
  readonly failures: FormFailure[] = [];
  /** Requests to routes that are not in the table. */
  readonly unknown: RequestKept[] = [];
  readonly #waiting = new Set<() => void>();

  /** Requests to one route of the table, oldest first. */
  to(route: string): RequestKept[] {
    return this.requests.filter((r) => r.route === route);
  }

  changed(): void {
    for (const look of this.#waiting) look();
  }

  /** Waits until the condition gives something other than undefined, null or false, and returns it. */
  until<T>(condition: () => T, within = 60_000): Promise<NonNullable<Exclude<T, false>>> {
    type Found = NonNullable<Exclude<T, false>>;
    return new Promise<Found>((resolve, reject) => {
      const done = (): void => {
        this.#waiting.delete(look);
        clearInterval(again);
        clearTimeout(limit);
      };
      const look = (): void => {
        try {
          const found = condition();
          if (found === undefined || found === null || found === false) return;
          done();
          resolve(found as Found);
        } catch (error) {
          done();
          reject(error);
        }
      };
      const again = setInterval(look, 5);
      const limit = setTimeout(() => {
        done();
        reject(new Error(`It did not come about within ${within} ms: ${String(condition)}\n${this.#lately()}`));
      }, within);
      this.#waiting.add(look);
      look();
    });
  }

  #lately(): string {
    const last = this.requests.slice(-8).map((r) => `  ${r.method} ${r.path} -> ${r.status ?? '-'} ${r.code ?? ''}`);
    return last.length === 0 ? 'No request has arrived.' : `The last requests:\n${last.join('\n')}`;
  }
}
