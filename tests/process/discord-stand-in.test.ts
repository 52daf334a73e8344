// A bot in another process reaches the stand-in of Discord by two settings, and is answered as one in this process is.

import { spawn } from 'node:child_process';
import { afterEach, expect, test } from 'vitest';
import { startStandIn, type StandIn } from '../discord/stand-in/stand-in.js';

const BOT = `
  import { Client, GatewayIntentBits } from 'discord.js';
  const { DISCORD_API_BASE: api, DISCORD_TOKEN: token } = process.env;
  const client = new Client({ intents: [GatewayIntentBits.Guilds], rest: { api } });
  client.on('clientReady', () => client.application.commands.set([{ name: 'go', description: 'Goes' }]));
  client.on('interactionCreate', async (i) => {
    await i.reply('gone');
    await client.destroy();
  });
  await client.login(token);
`;

let discord: StandIn;
afterEach(() => discord.stop());

test('it logs in, registers, answers and leaves', async () => {
  discord = await startStandIn();
  const bot = spawn(process.execPath, ['--input-type=module', '-e', BOT], {
    env: { ...process.env, ...discord.env() },
    stdio: ['ignore', 'inherit', 'inherit'],
  });
  const exit = new Promise<number | null>((resolve) => bot.on('exit', resolve));
  await discord.until(() => discord.commands().length === 1, 60_000);
  const given = discord.people.slash(discord.addUser('Ana'), 'go');
  expect((await discord.until(() => given.original, 60_000)).content).toBe('gone');
  expect(await exit).toBe(0);
  expect(discord.gateway.live).toBe(0);
  expect(discord.kept.failures).toEqual([]);
});
