// The table of all routes, and how a path is found in it. A path that is not found is for the server to refuse.

import { answering } from './answering.js';
import type { Route } from './hub.js';
import { looking } from './looking.js';
import { posting } from './posting.js';
import { registering } from './registering.js';
import { threads } from './threads.js';

// Fixed words stand before parameters: '/users/@me' is not a user called @me.
const table = [...looking, ...posting, ...threads, ...answering, ...registering].map((route) => {
  const [method = '', path = ''] = route.name.split(' ');
  return { route, method, parts: path.split('/').slice(1) };
});

/** All names, as faults and records use them. */
export function routeNames(): string[] {
  return table.map((t) => t.route.name);
}

export interface Match {
  readonly route: Route;
  readonly params: Record<string, string>;
}

/** @param path below /api/v10, without its query; still encoded ('@original' arrives as '%40original') */
export function findRoute(method: string, path: string): Match | undefined {
  const parts = path.split('/').slice(1).map(decodeURIComponent);
  for (const entry of table) {
    if (entry.method !== method || entry.parts.length !== parts.length) continue;
    const params: Record<string, string> = {};
    const fits = entry.parts.every((want, i) => {
      const got = parts[i] ?? '';
      if (!want.startsWith(':')) return want === got;
      params[want.slice(1)] = got;
      return got !== '';
    });
    if (fits) return { route: entry.route, params };
  }
  return undefined;
}
