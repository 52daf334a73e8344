/** The bot as a process: what it refuses to start with, how it ends, and that only one speaks for a store. */
import { setTimeout as wait } from 'node:timers/promises';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { BOT_PERMISSIONS } from '../discord/bot-permissions.js';
import { startStandIn, type StandIn } from '../discord/stand-in/stand-in.js';
import type { Said } from '../discord/stand-in/said.js';
import { openStore } from '../../src/store/store.js';
import { newFolder, run, start, type Running } from './program.js';

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
  await discord.until(() => discord.gateway.identified > before, 20_000);
  await wait(100);
  return program;
}

describe('thawline serve', () => {
  it('finds everything right with --check', async () => {
    const env = await aServer();
    const { code, out } = await run(['serve', '--check'], '', { env });
    expect(code).toBe(0);
    expect(out).toContain('are right');
  });

  it('refuses a wrong token, a missing role and a channel it may not write to, each in one line', async () => {
    const env = await aServer();
    const told = async (over: Record<string, string>): Promise<string[]> => {
      const ended = await run(['serve'], '', { env: { ...env, ...over } });
      expect(ended.code).toBe(2);
      expect(ended.err).not.toContain('    at ');
      return lines(ended.err);
    };
    expect(await told({ DISCORD_TOKEN: 'another.token.entirely' })).toEqual([
      expect.stringContaining('DISCORD_TOKEN is not accepted'),
    ]);
    expect(await told({ THAWLINE_TECHNICIAN_ROLE_ID: '123456789012345678' })).toEqual([
      expect.stringContaining('THAWLINE_TECHNICIAN_ROLE_ID: the server has no role 123456789012345678'),
    ]);
    const mute = discord.addChannel('mute');
    discord.permit(mute, 'SendMessages', 'deny');
    expect(await told({ THAWLINE_DESK_CHANNEL_ID: mute.id })).toEqual([
      expect.stringContaining('lacks the permission "Send Messages"'),
    ]);
  });

  it('speaks for a store alone, and leaves in order', async () => {
    const env = await aServer();
    const first = await listening(env);
    const second = await run(['serve'], '', { env });
    expect(second.code).toBe(1);
    expect(lines(second.err)).toEqual([expect.stringContaining('another bot speaks for this store')]);
    first.child.kill('SIGTERM');
    expect(await first.ended).toMatchObject({ code: 0, signal: null });
    const third = await listening(env);
    third.child.kill('SIGKILL');
    await third.ended;
    // one that was killed holds nothing
    const fourth = await listening(env);
    fourth.child.kill('SIGTERM');
    expect((await fourth.ended).code).toBe(0);
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
    const thread = await discord.until(() => discord.threads()[0], 20_000);
    await discord.until(() => asked.original?.content.includes('<#'), 20_000);
    const shown = (): Said[] => discord.botMessages(thread).filter((m) => m.onlyFor === undefined);
    const before = shown().length;
    const question = shown().at(-1);
    const menu = question?.parts.find((p) => p.options);
    if (!question || !menu?.custom_id) throw new Error('no menu was shown');

    // the answer to the acknowledgement is held back, so the turn has not begun
    discord.faults.hold('POST /interactions/:interaction/:token/callback');
    const tap = discord.people.select(ana, question, menu.custom_id, [menu.options?.[0]?.value ?? '']);
    await discord.until(() => tap.answer, 20_000);
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
    await discord.until(() => discord.kept.to(SEND).length > tries, 20_000);
    await killed();
    expect(tapsStored()).toBe(1);
    expect(shown()).toHaveLength(before);

    bot = await listening(env);
    await discord.until(() => shown().length > before, 20_000);
    const again = discord.people.pressStale(ana, question, menu.custom_id);
    await discord.until(() => again.original?.content.includes('already answered'), 20_000);
    bot.child.kill('SIGTERM');
    expect((await bot.ended).code).toBe(0);
    expect(tapsStored()).toBe(1);
    expect(shown()).toHaveLength(before + 1);
    expect(discord.kept.failures).toEqual([]);
  });

  it('ends in one line when its token is revoked, and never writes the token', async () => {
    const env = await aServer();
    const program = await listening(env);
    discord.faults.revoked = true;
    discord.gateway.close(4004);
    const { code, err } = await program.ended;
    expect(code).toBe(1);
    expect(lines(err)).toEqual([expect.stringContaining('does not accept DISCORD_TOKEN any more')]);
    expect(err).not.toContain(discord.token);
  });
});
