// The HTTP side: reads a request, finds its route, lets planned trouble happen, judges the body, answers. What a request
// does is the route's business.

import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { bytesOf, readBody, type Body } from './body.js';
import type { Faults, Trouble } from './faults.js';
import { formFaults } from './hand-rules.js';
import type { Hub, Reply } from './hub.js';
import type { RequestKept } from './record.js';
import { badForm, Refusal, unauthorized } from './refusals.js';
import { findRoute, type Match } from './routes.js';

const API = '/api/v10';

export class RestServer {
  readonly server: Server;
  port = 0;
  /** What was thrown by the stand-in itself: mistakes in it, or in what a test asked of it. */
  readonly bugs: unknown[] = [];

  constructor(
    private readonly hub: () => Hub,
    private readonly faults: Faults,
    private readonly token: string,
  ) {
    this.server = createServer((request, response) => {
      this.#answer(request, response).catch((error: unknown) => {
        this.bugs.push(error);
        console.error('The stand-in of Discord failed:', error);
        response.destroy();
      });
    });
    // Discord keeps idle connections for minutes; Node's 5 s would end some in the face of a slow bot.
    this.server.keepAliveTimeout = 120_000;
  }

  /** Listens on the port it had, or a free one. */
  async listen(): Promise<void> {
    await new Promise<void>((resolve, reject) => {
      this.server.once('error', reject);
      this.server.listen(this.port, '127.0.0.1', resolve);
    });
    this.port = (this.server.address() as AddressInfo).port;
  }

  /** New connections are refused, open ones are cut; the port is kept for `listen`. */
  async refuse(): Promise<void> {
    const closed = new Promise<void>((resolve) => this.server.close(() => resolve()));
    this.server.closeAllConnections();
    await closed;
  }

  async #answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const bytes = await bytesOf(request);
    const url = new URL(request.url ?? '/', 'http://127.0.0.1');
    const method = request.method ?? 'GET';
    if (url.pathname.startsWith('/attachments/')) return this.#file(url.pathname, response);

    const path = url.pathname.startsWith(`${API}/`) ? url.pathname.slice(API.length) : undefined;
    const match = path === undefined ? undefined : findRoute(method, path);
    const trouble = match === undefined ? undefined : this.faults.next(match.route.name);
    const { kept, clock } = this.hub();
    let body: Body | Refusal;
    try {
      body = await readBody(request.headers['content-type'] ?? '', bytes);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      body = error;
    }
    const record: RequestKept = {
      route: match?.route.name,
      method,
      path: (path ?? url.pathname) + url.search,
      body: body instanceof Refusal ? undefined : body.json,
      uploads: body instanceof Refusal ? [] : body.uploads,
      at: clock.now(),
    };
    kept.requests.push(record);
    const reply = this.#before(trouble, response, record);
    if (reply === 'answered') return kept.changed();

    const result = this.#decide(match, request, body, url, record);
    kept.changed();
    if (trouble?.kind === 'dropped') return void response.destroy();
    if (trouble?.kind === 'held') await trouble.until;
    write(response, result, record);
    kept.changed();
  }

  /** Trouble that keeps the request from having any effect. */
  #before(trouble: Trouble | undefined, response: ServerResponse, record: RequestKept): 'answered' | 'go on' {
    switch (trouble?.kind) {
      case 'limited': {
        const { retryAfter, global } = trouble;
        response.setHeader('retry-after', String(retryAfter));
        response.setHeader('x-ratelimit-scope', global ? 'global' : 'user');
        if (global) response.setHeader('x-ratelimit-global', 'true');
        const body = { message: 'You are being rate limited.', retry_after: retryAfter, global };
        write(response, { status: 429, body }, record);
        return 'answered';
      }
      case 'status':
        record.status = trouble.status;
        response.writeHead(trouble.status, { 'content-type': 'text/plain' }).end('upstream trouble');
        return 'answered';
      case 'dropped':
        if (trouble.when === 'after') return 'go on';
        response.destroy();
        return 'answered';
      case 'held':
      case undefined:
        return 'go on';
    }
  }

  #decide(
    match: Match | undefined,
    request: IncomingMessage,
    body: Body | Refusal,
    url: URL,
    record: RequestKept,
  ): Reply {
    const hub = this.hub();
    try {
      if (match === undefined) {
        hub.kept.unknown.push(record);
        const fault = {
          path: [],
          code: 'UNKNOWN_ROUTE',
          message: `There is no route ${record.method} ${record.path}.`,
        };
        hub.kept.failures.push({ request: record, faults: [fault] });
        throw new Refusal(404, 0, '404: Not Found');
      }
      const { route, params } = match;
      if (route.open !== true) {
        if (this.faults.revoked || request.headers.authorization !== `Bot ${this.token}`) throw unauthorized();
      }
      if (body instanceof Refusal) throw body;
      if (route.schema !== false) {
        const faults = formFaults(route.schema, route.rules, body.json, body.uploads);
        if (faults.length > 0) throw badForm(faults);
      }
      const json = (body.json ?? {}) as Record<string, unknown>;
      const { uploads } = body;
      return route.handle({ params, query: url.searchParams, body: json, uploads, at: record.at }, hub);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      if (error.faults.length > 0) hub.kept.failures.push({ request: record, faults: error.faults });
      record.code = error.code;
      return { status: error.status, body: error.body() };
    }
  }

  #file(path: string, response: ServerResponse): void {
    const upload = this.hub().messages.files.get(path.split('/')[3] ?? '');
    if (upload === undefined) return void response.writeHead(404).end();
    response.writeHead(200, { 'content-type': upload.type, 'content-length': upload.bytes.length }).end(upload.bytes);
  }
}

function write(response: ServerResponse, { status, body }: Reply, record: RequestKept): void {
  record.status = status;
  // An empty 204 with a content type makes the library parse nothing as JSON.
  if (body === undefined) response.writeHead(status).end();
  else response.writeHead(status, { 'content-type': 'application/json' }).end(JSON.stringify(body));
}
