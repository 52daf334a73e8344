/** What `thawline serve --check` finds on a server: one line for each thing that is missing, with what to do. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import { REST } from 'discord.js';
import { checkServer, type Wanted } from '../../src/channels/discord/check.js';
import { BOT_PERMISSIONS } from './bot-permissions.js';
import { startStandIn, type StandIn } from './stand-in/stand-in.js';
import type { Channel } from './stand-in/world.js';

let discord: StandIn;
let desk: Channel;
let wanted: Wanted;
beforeEach(async () => {
  discord = await startStandIn({ botPermissions: BOT_PERMISSIONS.filter((p) => p !== 'AttachFiles') });
  const everyone = discord.guild.roles.get(discord.guild.id);
  if (everyone) everyone.permissions = '0';
  desk = discord.addChannel('desk');
  // what is lacking on the server may be allowed in the channel
  discord.permit(desk, 'AttachFiles', 'allow');
  wanted = {
    guild: discord.guild.id,
    deskChannel: desk.id,
    technicianRole: discord.addRole('technicians').id,
    seniorRole: discord.addRole('seniors').id,
  };
});
afterEach(() => discord.stop());

const LACKS = 'The bot lacks the permission "Attach Files" on the server: give it to the bot\'s role.';
const check = (over: Partial<Wanted> = {}, token = discord.token) =>
  checkServer(new REST({ api: discord.apiBase, retries: 0 }).setToken(token), { ...wanted, ...over });

it('each mistake is one line that names its setting; all are told at once', async () => {
  expect((await check()).missing).toEqual([LACKS]);
  expect((await check({}, 'of-another.bot')).missing).toEqual([
    expect.stringMatching(/^DISCORD_TOKEN .*401 .*: copy /),
  ]);
  expect((await check({ guild: '10000000000000000' })).missing).toEqual([
    expect.stringMatching(/^DISCORD_GUILD_ID: the bot is not on the server 10000000000000000 .*: invite it/),
  ]);
  const secret = discord.addChannel('secret');
  discord.permit(secret, 'ViewChannel', 'deny');
  discord.permit(desk, 'ReadMessageHistory', 'deny');
  expect((await check()).missing).toEqual([
    LACKS,
    expect.stringMatching(
      /^THAWLINE_DESK_CHANNEL_ID: the bot lacks the permission "Read Message History" in the channel /,
    ),
  ]);
  const over = { seniorRole: '10000000000000000', deskChannel: secret.id };
  expect((await check(over)).missing).toEqual([
    expect.stringMatching(/^THAWLINE_SENIOR_ROLE_ID: the server has no role 10000000000000000: /),
    LACKS,
    expect.stringMatching(/^THAWLINE_DESK_CHANNEL_ID: .* cannot be seen .*: let the bot in/),
  ]);
});

it('what works less than it could is a note, not a mistake', async () => {
  const { notes, reads } = await check({ deskChannel: null, technicianRole: null });
  expect(reads).toBe(true);
  expect(notes).toEqual([
    expect.stringMatching(/^THAWLINE_TECHNICIAN_ROLE_ID is not set/),
    expect.stringMatching(/^THAWLINE_DESK_CHANNEL_ID is not set/),
  ]);
});
