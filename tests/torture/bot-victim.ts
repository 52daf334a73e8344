/**
 * The Discord bot as a victim: a real process of the built program on a stand-in of Discord, which lives on while bots
 * die. People write and tap as Discord lets them: what was written stands there and is not written again; a tap that came
 * to nothing is made again on the question that stands.
 */
import Sqlite from 'better-sqlite3';
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import type { APIUser } from 'discord.js';
import { answerPosts, KINDS } from '../../src/channels/discord/answer-posts.js';
import type { Knowledge } from '../../src/knowledge/facts.js';
import type { Answer } from '../../src/message/outgoing.js';
import { say } from '../../src/reply/say.js';
import { BOT_PERMISSIONS } from '../discord/bot-permissions.js';
import { startStandIn, type StandIn } from '../discord/stand-in/stand-in.js';
import type { Said } from '../discord/stand-in/said.js';
import type { Channel } from '../discord/stand-in/world.js';
import { botMessageOf } from './bot-talk.js';
import type { Alive, Message, Victim } from './victim.js';

const LOOK_MS = 20;
/** Who got no answer for so long from a living bot is counted as not answered. */
const PATIENCE_MS = 180_000;
/** A tap that was acknowledged by a bot that died may still be worked on by the next one: so long it is not made again. */
const NOT_AGAIN_MS = 2000;
/** A person writes no more than this before the first of it is answered. */
const MOST_AHEAD = 3;

interface Talk {
  readonly user: APIUser;
  /** what was said in it, in order */
  readonly said: string[];
  line: Promise<unknown>;
}

export interface BotVictim extends Victim {
  readonly discord: StandIn;
  /** lines of the log of all that lived */
  readonly log: readonly string[];
  /** posts in the technicians' channel */
  readonly atDesk: () => number;
}

export async function botVictim(main: string, cache: string, knowledge: Knowledge): Promise<BotVictim> {
  const discord = await startStandIn({ botPermissions: BOT_PERMISSIONS });
  const technicians = discord.addRole('technicians');
  const desk = discord.addChannel('desk');
  const talks = new Map<string, Talk>();
  const saidAs = new Map<string, string[]>();
  const answers = new Map<string, string>();
  const log: string[] = [];
  const written = new Set<string>();

  const idsOf = (id: string): string[] => saidAs.get(id) ?? saidAs.set(id, []).get(id) ?? [];
  const talkOf = (conversation: string): Talk => {
    const known = talks.get(conversation);
    if (known) return known;
    const made: Talk = { user: discord.addUser(conversation), said: [], line: Promise.resolve() };
    talks.set(conversation, made);
    return made;
  };
  const postsIn = (channel: Channel): Said[] =>
    discord.botMessages(channel).filter((m) => m.onlyFor === undefined && !/^n\d+$/.test(m.nonce ?? ''));
  const pieces = (stored: string): string[] => {
    const answer = JSON.parse(stored) as Answer;
    const room = {
      conversation: '',
      place: '',
      guild: null,
      parent: null,
      owner: '',
      person: '',
      role: '',
      seen: null,
    };
    const front = { knowledge, say: say.bind(null, knowledge) };
    const made = { answer, room, role: 'homeowner', files: [], newId: () => '', chosen: null, before: null } as const;
    return answerPosts(front, made)
      .filter((p) => p.kind === KINDS.answer)
      .map((p) => (JSON.parse(p.body) as { content: string }).content.trim());
  };

  const start = (folder: string): Alive => {
    const before = discord.gateway.identified;
    const child = spawn(process.execPath, [main, 'serve', '--db', join(folder, 'cases.db')], {
      env: {
        PATH: process.env['PATH'] ?? '',
        HOME: folder,
        XDG_CACHE_HOME: cache,
        ...discord.env(),
        DISCORD_GUILD_ID: discord.guild.id,
        THAWLINE_DESK_CHANNEL_ID: desk.id,
        THAWLINE_TECHNICIAN_ROLE_ID: technicians.id,
        THAWLINE_SENIOR_ROLE_ID: technicians.id,
      },
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    child.stderr.on('data', (chunk: Buffer) => log.push(chunk.toString('utf8')));
    const keptOf = looker(folder, pieces);
    const life = { over: false };
    const gone = once(child, 'close').then(() => (life.over = true));
    /** False where the bot died, or seems to do nothing any more. */
    const until = async (condition: () => boolean, patience = PATIENCE_MS): Promise<boolean> => {
      const latest = Date.now() + patience;
      while (!life.over && Date.now() < latest) {
        if (condition()) return true;
        await wait(LOOK_MS);
      }
      return false;
    };
    const isStored = (talk: Talk, id: string): boolean =>
      keptOf(talk.user.id).rows.some((row) => idsOf(id).includes(row.id ?? ''));

    /** What was said for one message stands on Discord, or is stored; false where the bot died before. */
    async function speak(talk: Talk, { id, said }: Message): Promise<boolean> {
      if (isStored(talk, id)) return true;
      const isHearing = (): boolean => discord.gateway.identified > before;
      const last = discord.interactions.find((i) => i.id === idsOf(id).at(-1));
      if (last?.answer) {
        if (!(await until(isHearing))) return false;
        if (await until(() => isStored(talk, id), NOT_AGAIN_MS)) return true;
      }
      const { place } = keptOf(talk.user.id);
      if (place === undefined) {
        const problem = 'text' in said ? said.text : 'frost in the freezer';
        if (!(await until(isHearing))) return false;
        idsOf(id).push(discord.people.slash(talk.user, 'case', { problem }, discord.channel).id);
        return until(() => isStored(talk, id));
      }
      if (!(await until(() => threadOf(talk) !== undefined))) return false;
      const thread = threadOf(talk);
      if (!thread) throw new Error('a thread does not vanish');
      const earlier = talk.said.slice(0, talk.said.indexOf(id));
      if ('text' in said) {
        const ahead = (): number => earlier.filter((e) => !answers.has(e)).length;
        if (!(await until(() => ahead() < MOST_AHEAD))) return false;
        write(talk, thread, id, said.text);
        return true;
      }
      if (written.has(id)) return true;
      const all = (): number => sizeOf(keptOf(talk.user.id).rows);
      const isQuiet = (): boolean => earlier.every((e) => isStored(talk, e)) && postsIn(thread).length >= all();
      if (!(await until(isQuiet))) return false;
      if (!(await until(isHearing))) return false;
      if (!tap(talk, thread, id)) write(talk, thread, id, 'not sure');
      return until(() => isStored(talk, id));
    }

    const threadOf = (talk: Talk): Channel | undefined => {
      const { place } = keptOf(talk.user.id);
      return discord.threads().find((t) => t.id === place);
    };

    /** What the person reads where the answer to this message stands among the bot's posts. */
    function readIn(talk: Talk, id: string): string | null {
      const { rows } = keptOf(talk.user.id);
      const known = idsOf(id).find((each) => rows.some((row) => row.id === each));
      const at = rows.findIndex((row) => row.id === known);
      const thread = threadOf(talk);
      if (at < 0 || !thread) return null;
      const first = sizeOf(rows.slice(0, at));
      const size = rows[at]?.pieces.length ?? 0;
      const own = postsIn(thread).slice(first, first + size);
      return own.length === size ? own.map((m) => m.versions[0]?.trim()).join('\n') : null;
    }

    /** The first choice of the question that stands; false where it has none. */
    function tap({ user }: Talk, thread: Channel, id: string): boolean {
      const question = postsIn(thread).at(-1);
      const choice = question?.parts.find((p) => /^1\.[asn]\./.test(p.custom_id ?? ''));
      if (!question || !choice?.custom_id) return false;
      const [first] = choice.options ?? [];
      const given = first
        ? discord.people.select(user, question, choice.custom_id, [first.value])
        : discord.people.press(user, question, choice.custom_id);
      idsOf(id).push(given.id);
      return true;
    }

    /** Once: what stands in a thread is read there, by whichever bot. */
    function write({ user }: Talk, thread: Channel, id: string, text: string): void {
      if (written.has(id)) return;
      written.add(id);
      idsOf(id).push(discord.people.say(user, thread, text).id);
    }

    return {
      say: async (message) => {
        const { id, conversation } = message;
        const known = answers.get(id);
        if (known !== undefined) return known;
        const talk = talkOf(conversation);
        if (!talk.said.includes(id)) talk.said.push(id);
        const spoken = talk.line.then(() => speak(talk, message));
        talk.line = spoken.catch(() => undefined);
        if (!(await spoken)) return null;
        let read: string | null = null;
        await until(() => (read = readIn(talk, id)) !== null);
        if (read !== null) answers.set(id, read);
        return read;
      },
      kill: async () => {
        child.kill('SIGKILL');
        await gone;
      },
      end: async () => {
        child.kill('SIGTERM');
        await gone;
      },
    };
  };

  return {
    discord,
    log,
    atDesk: () => discord.botMessages(desk).filter((m) => m.nonce?.startsWith('e')).length,
    start,
    startMs: 1500,
    pairs: false,
    messageOf: botMessageOf,
    shown: (stored) => pieces(stored).join('\n'),
    saidAs: idsOf,
    delivered: ({ id, caseId, kind, failed }) => {
      if (failed !== null || kind === KINDS.settle) return null;
      if (kind === KINDS.thread) return discord.threads().filter((t) => t.name?.includes(caseId)).length;
      return discord.everything().filter((m) => m.authorId === discord.bot.id && m.nonce === id).length;
    },
  };
}

const sizeOf = (rows: readonly Row[]): number => rows.reduce((n, row) => n + row.pieces.length, 0);

interface Row {
  readonly id: string | null;
  readonly pieces: readonly string[];
}
interface Kept {
  /** undefined where there is no case yet */
  place: string | null | undefined;
  readonly rows: Row[];
}

/**
 * What the store holds of the one case that each person has opened. The file is opened and closed again for each look, as
 * nothing may hold on to it while a bot dies and another starts.
 */
function looker(folder: string, pieces: (stored: string) => string[]): (owner: string) => Kept {
  const path = join(folder, 'cases.db');
  const all = new Map<string, Kept>();
  let looked = 0;
  const look = (): void => {
    looked = Date.now();
    if (!existsSync(path)) return;
    const db = new Sqlite(path, { readonly: true });
    try {
      const rooms = db.prepare<[], { owner: string; place: string | null; caseId: string }>(
        "SELECT r.owner, r.place, v.case_id AS caseId FROM rooms r JOIN conversations v ON v.channel = 'discord' AND v.name = r.conversation",
      );
      const rows = db.prepare<[string, number], { id: string | null; answer: string }>(
        'SELECT message_id AS id, answer FROM messages WHERE case_id = ? ORDER BY seq LIMIT -1 OFFSET ?',
      );
      for (const { owner, place, caseId } of rooms.all()) {
        const kept = all.get(owner) ?? { place, rows: [] };
        kept.place = place;
        for (const { id, answer } of rows.all(caseId, kept.rows.length)) kept.rows.push({ id, pieces: pieces(answer) });
        all.set(owner, kept);
      }
    } catch {
      // killed before there was a schema
    } finally {
      db.close();
    }
  };
  return (owner) => {
    if (Date.now() - looked >= LOOK_MS) look();
    return all.get(owner) ?? { place: undefined, rows: [] };
  };
}
