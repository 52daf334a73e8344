/** `thawline serve` in a process of its own: what is not right on the server is one line each, and it ends. */
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { startStandIn, type StandIn } from '../discord/stand-in/stand-in.js';
import type { Channel } from '../discord/stand-in/world.js';
import { newFolder, outLines, run, start } from './program.js';

let discord: StandIn;
let desk: Channel;
let env: Record<string, string>;

beforeEach(async () => {
  discord = await startStandIn({
    botPermissions: [
      'ViewChannel',
      'SendMessages',
      'AttachFiles',
      'ReadMessageHistory',
      'CreatePrivateThreads',
      'SendMessagesInThreads',
    ],
  });
  desk = discord.addChannel('desk');
  env = {
    ...discord.env(),
    DISCORD_GUILD_ID: discord.guild.id,
    THAWLINE_DESK_CHANNEL_ID: desk.id,
    THAWLINE_TECHNICIAN_ROLE_ID: discord.addRole('technicians').id,
    THAWLINE_SENIOR_ROLE_ID: discord.addRole('seniors').id,
    THAWLINE_DB: join(newFolder(), 'cases.db'),
  };
});
afterEach(() => discord.stop());

const without = (name: string): void => void delete env[name];
const MISTAKES: Readonly<Record<string, { make: () => void; says: RegExp }>> = {
  'no token': { make: () => without('DISCORD_TOKEN'), says: /^thawline: DISCORD_TOKEN is not set: / },
  'no server': { make: () => without('DISCORD_GUILD_ID'), says: /^thawline: DISCORD_GUILD_ID is not set: / },
  'a wrong token': {
    make: () => (env['DISCORD_TOKEN'] = 'of-another.bot'),
    says: /^thawline: DISCORD_TOKEN is not accepted by Discord \(401 .*\): copy it anew /,
  },
  'a server that the bot is not on': {
    make: () => (env['DISCORD_GUILD_ID'] = '10000000000000000'),
    says: /^thawline: DISCORD_GUILD_ID: the bot is not on the server 10000000000000000 .*: invite it/,
  },
  'a missing role': {
    make: () => (env['THAWLINE_SENIOR_ROLE_ID'] = '10000000000000000'),
    says: /^thawline: THAWLINE_SENIOR_ROLE_ID: the server has no role 10000000000000000: /,
  },
  'a channel it may not write to': {
    make: () => discord.permit(desk, 'SendMessages', 'deny'),
    says: /^thawline: THAWLINE_DESK_CHANNEL_ID: the bot lacks the permission "Send Messages" in the channel /,
  },
};

it.each(
  Object.entries(MISTAKES).flatMap(([name, { make, says }]) =>
    [['serve'], ['serve', '--check']].map((args) => ({ name, make, says, args, command: args.join(' ') })),
  ),
)('$command: $name', async ({ make, says, args }) => {
  make();
  const { code, out, err } = await run(args, '', { env });
  expect(outLines(err)).toEqual([expect.stringMatching(says)]);
  expect(out).toBe('');
  expect(code).toBe(2);
  expect(err).not.toContain(discord.token);
  expect(discord.gateway.identified).toBe(0);
});

it('--check says that all is right, and logs in nowhere', async () => {
  const { code, out, err } = await run(['serve', '--check'], '', { env });
  expect({ code, err }).toEqual({ code: 0, err: '' });
  expect(outLines(out).at(-1)).toMatch(/ are right\. /);
  expect(discord.gateway.identified).toBe(0);
});

it('--check of a Discord that cannot be reached is one line', async () => {
  await discord.refuse();
  const { code, err } = await run(['serve', '--check'], '', { env });
  expect(outLines(err)).toEqual([expect.stringMatching(/^thawline: Discord cannot be reached .*: check the network/)]);
  expect(code).toBe(1);
  await discord.accept();
});

it('a bot in a process answers, a second one on its store ends with one line, and SIGTERM ends the first', async () => {
  const first = start(['serve'], { env });
  await discord.until(() => discord.gateway.live === 1 && discord.commands().length > 0, 60_000);
  const asked = discord.people.slash(discord.addUser('Ana'), 'case', { problem: 'frost on the back wall' });
  await discord.until(() => asked.original?.content.includes('<#'), 60_000);
  const second = await run(['serve'], '', { env });
  expect(outLines(second.err)).toEqual([
    expect.stringMatching(/^thawline: another bot speaks for this store .*: end that one first$/),
  ]);
  expect(second.code).toBe(1);
  first.child.kill('SIGTERM');
  const { code, err, out } = await first.ended;
  expect({ code, out }).toEqual({ code: 0, out: '' });
  expect(err).not.toContain(discord.token);
  expect(discord.gateway.live).toBe(0);
  expect(discord.kept.failures).toEqual([]);
});
