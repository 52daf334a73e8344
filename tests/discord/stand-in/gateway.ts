// The WebSocket side: sessions, heartbeats, events with their numbers, resuming, and every way to lose a connection.
// It delivers what happened and decides nothing else about it.

import type { Server } from 'node:http';
import { GatewayIntentBits, type APIMessage } from 'discord.js';
import { WebSocketServer, type WebSocket } from 'ws';
import type { Hub } from './hub.js';
import { guildCreated } from './shown.js';
import type { Channel } from './world.js';

export interface Happening {
  readonly t: string;
  readonly d: object;
  /** Sent where one of these intents was declared; empty: always. */
  readonly intents: readonly GatewayIntentBits[];
  readonly guildId?: string | undefined;
  /** Sent only where the bot sees this channel. */
  readonly channel?: Channel;
}

interface Frame {
  readonly op: number;
  readonly d: unknown;
  readonly s?: number;
  readonly t?: string;
}

interface Session {
  readonly id: string;
  readonly intents: number;
  readonly shard: readonly [number, number];
  /** All events, so that a client which comes back gets what it missed. */
  readonly sent: Frame[];
  socket: WebSocket | undefined;
}

const PRIVILEGED = GatewayIntentBits.MessageContent | GatewayIntentBits.GuildMembers | GatewayIntentBits.GuildPresences;
/** Documented: events/gateway.mdx. */
const SENDS_PER_MINUTE = 120;
const PAYLOAD_BYTES = 4096;

export class Gateway {
  /** How many IDENTIFY and RESUME were taken. */
  identified = 0;
  resumed = 0;
  /** False: heartbeats are not acknowledged any more. */
  acknowledgesHeartbeats = true;
  readonly #sessions = new Map<string, Session>();
  readonly #sockets = new Set<WebSocket>();
  /** Told by op 9 to come again on the same connection. */
  readonly #invited = new Set<WebSocket>();
  readonly #server = new WebSocketServer({ noServer: true });
  #twice = 0;
  #never = 0;

  constructor(
    private readonly hub: () => Hub,
    private readonly settings: {
      readonly token: string;
      readonly privileged: number;
      readonly heartbeatEvery: number;
      readonly revoked: () => boolean;
    },
  ) {}

  attach(server: Server): void {
    server.on('upgrade', (request, socket, head) => {
      this.#server.handleUpgrade(request, socket, head, (connected) => this.#talk(connected));
    });
  }

  /** Sessions with a live connection. */
  get live(): number {
    return [...this.#sessions.values()].filter((s) => s.socket !== undefined).length;
  }

  /** The TCP connection breaks; the session can be resumed. */
  drop(): void {
    for (const socket of this.#sockets) socket.terminate();
  }

  /** Closes with a code; `forget`: the session cannot be resumed afterwards. */
  close(code: number, { forget = false } = {}): void {
    if (forget) this.#sessions.clear();
    for (const socket of this.#sockets) socket.close(code);
  }

  /** Op 7: asks the client to come back. */
  reconnect(): void {
    for (const socket of this.#sockets) send(socket, { op: 7, d: null });
  }

  /** Op 9: true may be resumed, false is lost with all events until the next IDENTIFY. */
  invalidate(resumable: boolean): void {
    if (!resumable) this.#sessions.clear();
    for (const socket of this.#sockets) {
      this.#invited.add(socket);
      send(socket, { op: 9, d: resumable });
    }
  }

  /** The connection breaks and the session is gone: a RESUME gets op 9 false. */
  lose(): void {
    this.#sessions.clear();
    this.drop();
  }

  /** The next events that anybody would get are delivered twice. */
  deliverTwice(events = 1): void {
    this.#twice = events;
  }

  /** The next events that anybody would get are never delivered. */
  swallow(events = 1): void {
    this.#never = events;
  }

  happen(event: Happening): void {
    const { guildId } = event;
    const hub = this.hub();
    if (event.channel !== undefined && !hub.world.sees(hub.bot.id, event.channel)) return;
    const receivers = [...this.#sessions.values()].filter(({ shard: [shard, of], intents }) => {
      const mine = guildId === undefined ? 0 : Number((BigInt(guildId) >> 22n) % BigInt(of));
      return mine === shard && (event.intents.length === 0 || event.intents.some((n) => (intents & n) !== 0));
    });
    if (receivers.length === 0) return;
    if (this.#never > 0) {
      this.#never -= 1;
      return;
    }
    const times = this.#twice > 0 ? 2 : 1;
    this.#twice = Math.max(0, this.#twice - 1);
    for (const session of receivers) {
      const d = event.t.startsWith('MESSAGE_') ? this.#seen(event.d, session.intents) : event.d;
      for (let n = 0; n < times; n += 1) this.#event(session, event.t, d);
    }
    hub.kept.changed();
  }

  stop(): void {
    for (const socket of this.#sockets) socket.terminate();
    this.#server.close();
  }

  #seen(d: object, intents: number): object {
    if ((intents & GatewayIntentBits.MessageContent) !== 0) return d;
    return withoutContent(d as APIMessage & { guild_id?: string }, this.hub().bot.id);
  }

  #event(session: Session, t: string, d: unknown): void {
    // A copy: what was sent must not change when the world does.
    const frame: Frame = { op: 0, t, s: session.sent.length + 1, d: structuredClone(d) };
    session.sent.push(frame);
    if (session.socket !== undefined) send(session.socket, frame);
  }

  #talk(socket: WebSocket): void {
    this.#sockets.add(socket);
    let session: Session | undefined;
    let arrivals: number[] = [];
    socket.on('error', () => socket.terminate());
    socket.on('close', (code) => {
      this.#sockets.delete(socket);
      if (session?.socket !== socket) return;
      session.socket = undefined;
      // A client that says goodbye ends its session.
      if (code === 1000 || code === 1001) this.#sessions.delete(session.id);
      this.hub().kept.changed();
    });
    socket.on('message', (data) => {
      const text = (data as Buffer).toString('utf8');
      const now = Date.now();
      arrivals = [...arrivals.filter((at) => now - at < 60_000), now];
      if (arrivals.length > SENDS_PER_MINUTE) return socket.close(4008);
      if (Buffer.byteLength(text) > PAYLOAD_BYTES) return socket.close(4002);
      const frame = JSON.parse(text) as Frame;
      switch (frame.op) {
        case 1:
          if (this.acknowledgesHeartbeats) send(socket, { op: 11, d: null });
          return undefined;
        case 2:
          if (session !== undefined && !this.#invited.delete(socket)) return socket.close(4005);
          session = this.#identify(socket, frame.d as Identify);
          break;
        case 6:
          if (session !== undefined && !this.#invited.delete(socket)) return socket.close(4005);
          session = this.#resume(socket, frame.d as Resume);
          break;
        case 3:
        case 4:
          if (session === undefined) return socket.close(4003);
          break;
        case 8:
          if (session === undefined) return socket.close(4003);
          this.#members(session, frame.d as { guild_id: string; nonce?: string });
          break;
        default:
          return socket.close(4001);
      }
      this.hub().kept.changed();
      return undefined;
    });
    send(socket, { op: 10, d: { heartbeat_interval: this.settings.heartbeatEvery } });
  }

  #identify(socket: WebSocket, wish: Identify): Session | undefined {
    if (wish.token !== this.settings.token || this.settings.revoked()) return refuse(socket, 4004);
    if ((wish.intents & PRIVILEGED & ~this.settings.privileged) !== 0) return refuse(socket, 4014);
    const hub = this.hub();
    this.identified += 1;
    const session: Session = {
      id: hub.ids.next(),
      intents: wish.intents,
      shard: wish.shard ?? [0, 1],
      sent: [],
      socket,
    };
    this.#sessions.set(session.id, session);
    const [shard, of] = session.shard;
    const mine = [...hub.world.guilds.values()].filter((g) => Number((BigInt(g.id) >> 22n) % BigInt(of)) === shard);
    this.#event(session, 'READY', {
      v: 10,
      user: hub.bot,
      guilds: mine.map(({ id }) => ({ id, unavailable: true })),
      session_id: session.id,
      resume_gateway_url: hub.origin().replace('http', 'ws'),
      application: { id: hub.applicationId, flags: 0 },
      shard: session.shard,
    });
    if ((session.intents & GatewayIntentBits.Guilds) !== 0) {
      for (const guild of mine) this.#event(session, 'GUILD_CREATE', guildCreated(guild, hub));
    }
    return session;
  }

  #resume(socket: WebSocket, wish: Resume): Session | undefined {
    if (wish.token !== this.settings.token || this.settings.revoked()) return refuse(socket, 4004);
    const session = this.#sessions.get(wish.session_id);
    if (session === undefined) {
      send(socket, { op: 9, d: false });
      return undefined;
    }
    if (wish.seq > session.sent.length) return refuse(socket, 4007);
    this.resumed += 1;
    session.socket = socket;
    for (const frame of session.sent.slice(wish.seq)) send(socket, frame);
    this.#event(session, 'RESUMED', {});
    return session;
  }

  #members(session: Session, { guild_id, nonce }: { guild_id: string; nonce?: string }): void {
    const guild = this.hub().world.guild(guild_id);
    this.#event(session, 'GUILD_MEMBERS_CHUNK', {
      guild_id,
      members: [...guild.members.values()],
      chunk_index: 0,
      chunk_count: 1,
      nonce,
    });
  }
}

interface Identify {
  readonly token: string;
  readonly intents: number;
  readonly shard?: readonly [number, number];
}

interface Resume {
  readonly token: string;
  readonly session_id: string;
  readonly seq: number;
}

/** Without MESSAGE_CONTENT a message is empty, but for the bot's own, direct ones and those that mention it. */
export function withoutContent<T extends Partial<APIMessage> & { guild_id?: string | undefined }>(
  message: T,
  botId: string,
): T {
  const { guild_id, author, mentions } = message;
  if (guild_id === undefined || author?.id === botId || mentions?.some((m) => m.id === botId)) return message;
  return { ...message, content: '', embeds: [], attachments: [], components: [] };
}

function refuse(socket: WebSocket, code: number): undefined {
  socket.close(code);
  return undefined;
}

function send(socket: WebSocket, frame: Frame): void {
  if (socket.readyState === socket.OPEN) socket.send(JSON.stringify(frame));
}
