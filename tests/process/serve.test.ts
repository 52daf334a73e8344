/** The bot as a process: what it refuses to start with, how it ends, and that only one speaks for a store. */
import { setTimeout as wait } from 'node:timers/promises';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { BOT_PERMISSIONS } from '../discord/bot-permissions.js';
import { startStandIn, type StandIn } from '../discord/stand-in/stand-in.js';
import { Conversations } from '../../src/conversation.js';
import type { Said as Words } from '../../src/message/incoming.js';
import { knowledge } from '../desk/a-desk.js';
import type { Said } from '../discord/stand-in/said.js';
import { around } from '../support/around.js';
import { openStore } from '../../src/store/store.js';
import { newFolder, outLines, run, start, type Running } from './program.js';

let discord: StandIn;
afterEach(() => discord.stop());

async function aServer(): Promise<Record<string, string>> {
  discord = await startStandIn({ botPermissions: BOT_PERMISSIONS });
  const role = discord.addRole('technicians');
  const desk = discord.addChannel('desk');
  return {
    ...discord.env(),
    DISCORD_GUILD_ID: discord.guild.id,
    THAWLINE_DESK_CHANNEL_ID: desk.id,
    THAWLINE_TECHNICIAN_ROLE_ID: role.id,
    THAWLINE_SENIOR_ROLE_ID: role.id,
    THAWLINE_DB: join(newFolder(), 'cases.db'),
  };
}

const lines = (text: string): string[] => text.split('\n').filter((line) => line.startsWith('thawline: '));

async function listening(env: Record<string, string>): Promise<Running> {
  const before = discord.gateway.identified;
  const program = start(['serve'], { env });
  await discord.until(() => discord.gateway.identified > before);
  await wait(100);
  return program;
}

/** A case that was closed on Discord so many days ago. */
function anOldCase(path: string, days: number): void {
  const at = new Date(Date.now() - days * 86_400_000).toISOString();
  const store = openStore(path);
  const talk = new Conversations(knowledge, store, { ...around('discord'), now: () => new Date(at) });
  const from = { id: 'old-owner', role: 'homeowner' } as const;
  const say = (said: Words): void => void talk.handle({ conversation: 'old', from, id: null, at, said });
  say({ kind: 'text', text: 'Zacharias here, the freezer is full of frost' });
  say({ kind: 'text', text: 'it is fixed now, thank you' });
  say({ kind: 'answer', finding: 'repair.result', value: 'fixed' });
  store.close();
}

describe('thawline serve', () => {
  it('finds everything right with --check, and logs in nowhere', async () => {
    const env = await aServer();
    const { code, out, err } = await run(['serve', '--check'], '', { env });
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toContain('are right');
    expect(discord.gateway.identified).toBe(0);
  });

  it('refuses what is not right, each mistake in one line', async () => {
    const env = await aServer();
    const told = async (over: Record<string, string>, expected = 2): Promise<string[]> => {
      const ended = await run(['serve'], '', { env: { ...env, ...over } });
      expect(ended.code).toBe(expected);
      expect(ended.out).toBe('');
      expect(ended.err).not.toContain(discord.token);
      return outLines(ended.err);
    };
    expect(await told({ DISCORD_TOKEN: '' })).toEqual([expect.stringMatching(/^thawline: DISCORD_TOKEN/)]);
    expect(await told({ DISCORD_TOKEN: 'another.token.entirely' })).toEqual([
      expect.stringMatching(/^thawline: DISCORD_TOKEN is not accepted by Discord \(401 /),
    ]);
    const mute = discord.addChannel('mute');
    discord.permit(mute, 'SendMessages', 'deny');
    const role = '123456789012345678';
    expect(await told({ THAWLINE_DESK_CHANNEL_ID: mute.id, THAWLINE_TECHNICIAN_ROLE_ID: role })).toEqual([
      expect.stringContaining(`THAWLINE_TECHNICIAN_ROLE_ID: the server has no role ${role}`),
      expect.stringContaining('THAWLINE_DESK_CHANNEL_ID: the bot lacks the permission "Send Messages"'),
    ]);
    expect(discord.gateway.identified).toBe(0);
    await discord.refuse();
    expect(await told({}, 1)).toEqual([expect.stringContaining('Discord cannot be reached')]);
    await discord.accept();
  });

  it('speaks for a store alone, empties old cases, and ends in one line when its token is revoked', async () => {
    const env: Record<string, string> = { ...(await aServer()), THAWLINE_KEEP_DAYS: '19' };
    anOldCase(env['THAWLINE_DB'] ?? '', 20);
    const first = await listening(env);
    const second = await run(['serve'], '', { env });
    expect(second.code).toBe(1);
    expect(lines(second.err)).toEqual([expect.stringContaining('another bot speaks for this store')]);
    first.child.kill('SIGKILL');
    await first.ended;
    const store = openStore(env['THAWLINE_DB'] ?? '');
    const [old = ''] = store.cases();
    expect(store.messages(old).map((m) => m.said)).toEqual([null, null, null]);
    store.close();
    // one that was killed holds nothing
    const third = await listening(env);
    discord.faults.revoked = true;
    discord.gateway.close(4004);
    const { code, err } = await third.ended;
    expect(code).toBe(1);
    expect(lines(err)).toEqual([expect.stringContaining('does not accept DISCORD_TOKEN any more')]);
    expect(err).not.toContain(discord.token);
  });

  it('killed between acknowledging and storing, then between storing and sending: the tap counts once', async () => {
    const env = await aServer();
    const ana = discord.addUser('Ana');
    const SEND = 'POST /channels/:channel/messages';
    let bot = await listening(env);
    const killed = async (): Promise<void> => {
      bot.child.kill('SIGKILL');
      await bot.ended;
      discord.faults.clear();
    };
    const asked = discord.people.slash(ana, 'case', { problem: 'frost on the back wall' });
    const thread = await discord.until(() => discord.threads()[0]);
    await discord.until(() => asked.original?.content.includes('<#'));
    const shown = (): Said[] => discord.botMessages(thread).filter((m) => m.onlyFor === undefined);
    const before = shown().length;
    const question = shown().at(-1);
    const menu = question?.parts.find((p) => p.options);
    if (!question || !menu?.custom_id) throw new Error('no menu was shown');

    // the answer to the acknowledgement is held back, so the turn has not begun
    discord.faults.hold('POST /interactions/:interaction/:token/callback');
    const tap = discord.people.select(ana, question, menu.custom_id, [menu.options?.[0]?.value ?? '']);
    await discord.until(() => tap.answer);
    await killed();
    const tapsStored = (): number => {
      const store = openStore(env['THAWLINE_DB'] ?? '');
      const taps = store.cases().flatMap((id) => store.messages(id).filter((m) => m.said?.kind === 'answer'));
      store.close();
      return taps.length;
    };
    expect(tapsStored()).toBe(0);

    discord.faults.fail(SEND, { times: Infinity });
    const tries = discord.kept.to(SEND).length;
    bot = await listening(env);
    await discord.until(() => discord.kept.to(SEND).length > tries);
    await killed();
    expect(tapsStored()).toBe(1);
    expect(shown()).toHaveLength(before);

    bot = await listening(env);
    await discord.until(() => shown().length > before);
    const again = discord.people.pressStale(ana, question, menu.custom_id);
    await discord.until(() => again.original?.content.includes('already answered'));
    bot.child.kill('SIGTERM');
    expect((await bot.ended).code).toBe(0);
    expect(tapsStored()).toBe(1);
    expect(shown()).toHaveLength(before + 1);
    expect(discord.kept.failures).toEqual([]);
  });
});
