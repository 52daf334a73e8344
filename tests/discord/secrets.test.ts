/** No token gets into a log line, an error or an answer: not the bot's own, not one of an interaction. */
import { DiscordAPIError, HTTPError } from 'discord.js';
import { afterEach, describe, expect, it } from 'vitest';
import { runCommand } from '../../src/commands/index.js';
import { makeLog } from '../../src/channels/discord/log.js';
import { aScene, lastQuestion, openCase, posted, type Scene } from './a-bot.js';

const TOKEN = 'MTIzNDU2Nzg5MDEyMzQ1Njc4.GaBcDe.a-token-of-the-bot_0123456789';
const TAP = 'aW50ZXJhY3Rpb246MTIzNDU2Nzg5MDEyMzQ1Njc4OnRva2Vu';
const CALLBACK = `https://discord.com/api/v10/interactions/123456789012345678/${TAP}/callback`;
const FOLLOW_UP = `https://discord.com/api/v10/webhooks/123456789012345678/${TAP}/messages/@original?wait=true`;

/** All that is written of one line of the log. */
function written(log: (log: ReturnType<typeof makeLog>) => void): string {
  const lines: string[] = [];
  const made = makeLog(TOKEN, { write: (line) => void lines.push(line) });
  made.level = 'trace';
  log(made);
  expect(lines).toHaveLength(1);
  return lines.join('');
}

const failed = (url: string): DiscordAPIError =>
  new DiscordAPIError({ code: 10062, message: `Unknown at ${url}` }, 10062, 404, 'POST', url, {
    body: { content: 'words of a caller', token: TOKEN, authorization: `Bot ${TOKEN}` },
    files: [],
  });
const thrown = (message: string, more: object = {}): Error => Object.assign(new Error(message), more);

describe('a log line', () => {
  it.each<[string, unknown]>([
    ['with the token in its message', thrown(`no gateway for ${TOKEN}`)],
    ['with it in its stack', thrown('no', { stack: `Error: no\n at login ("${TOKEN}")` })],
    ['with it in fields of its own', thrown('no', { token: TOKEN, options: { headers: { authorization: TOKEN } } })],
    ['caused by one that has it', new Error('no', { cause: thrown(TOKEN) })],
    ['of many that have it', new AggregateError([thrown(TOKEN)], 'all of them')],
    ['of Discord, with its body, on an interaction', failed(CALLBACK)],
    ['of Discord, on a follow-up', failed(FOLLOW_UP)],
    ['of HTTP, on an interaction', new HTTPError(502, 'Bad Gateway', 'POST', CALLBACK, { files: [], body: TOKEN })],
    ['that is only words', `${TOKEN} at ${CALLBACK}`],
  ])('of an error %s', (_, error) => {
    const line = written((log) => log.error({ err: error }, 'something went wrong'));
    expect(line).not.toContain(TOKEN);
    expect(line).not.toContain(TAP);
    expect(line).not.toContain('words of a caller');
  });

  it('of words, or with a token among its fields', () => {
    for (const line of [
      written((log) => log.warn(`[WS] identifies with ${TOKEN}`)),
      written((log) => log.info({ token: TOKEN, interaction: { token: TAP }, headers: { authorization: TOKEN } }, 'x')),
      written((log) => log.debug({ authorization: `Bot ${TOKEN}` }, `POST ${FOLLOW_UP}`)),
      written((log) => log.info('asked at %s', `${CALLBACK} by ${TOKEN}`)),
    ]) {
      expect(line).not.toContain(TOKEN);
      expect(line).not.toContain(TAP);
    }
  });
});

describe('a bot in trouble', () => {
  let scene: Scene | undefined;
  afterEach(() => scene?.end());

  it('writes no token anywhere, whatever Discord refuses', async () => {
    scene = await aScene({ timeoutMs: 500 });
    const { discord, ana, log } = scene;
    const thread = await openCase(scene, ana, 'frost on the back wall');
    const question = await lastQuestion(scene, thread);
    const [choice] = question.selects;
    const { faults } = discord;
    faults.fail('POST /channels/:channel/messages', { status: 500, times: 2 });
    faults.fail('POST /channels/:channel/messages', { status: 403, times: 1 });
    faults.fail('POST /interactions/:interaction/:token/callback', { status: 500, times: 1 });
    faults.fail('POST /interactions/:interaction/:token/callback', { status: 404, times: 1 });
    const first = choice?.options?.[0]?.value ?? '';
    discord.people.select(ana, question, choice?.custom_id ?? '', [first]);
    discord.people.say(ana, thread, `my token is of no use to you`);
    await discord.until(() => log.length > 2, 20_000);
    await posted(scene);
    const all = JSON.stringify([log, discord.everything().map((m) => m.api)]);
    expect(log.length).toBeGreaterThan(0);
    expect(all).not.toContain(discord.token);
    for (const { token } of discord.interactions) expect(all).not.toContain(token);
  });
});

describe('a command that cannot start', () => {
  const out: string[] = [];
  const keep = { out: process.stdout.write.bind(process.stdout), err: process.stderr.write.bind(process.stderr) };
  const listen = (chunk: unknown): boolean => {
    out.push(String(chunk));
    return true;
  };
  afterEach(() => {
    process.stdout.write = keep.out;
    process.stderr.write = keep.err;
    for (const name of ['DISCORD_TOKEN', 'DISCORD_GUILD_ID', 'DISCORD_API_BASE']) delete process.env[name];
    out.length = 0;
  });

  it.each<[string, Readonly<Record<string, string>>]>([
    ['a token that is no line', { DISCORD_TOKEN: `${TOKEN}\n${TOKEN}` }],
    ['a server that is none', { DISCORD_TOKEN: TOKEN, DISCORD_GUILD_ID: 'kitchen' }],
    ['the token in the place of the server', { DISCORD_TOKEN: TOKEN, DISCORD_GUILD_ID: TOKEN }],
    ['the token in the place of an address', { DISCORD_TOKEN: TOKEN, DISCORD_API_BASE: TOKEN }],
    [
      'a Discord that is not there',
      { DISCORD_TOKEN: TOKEN, DISCORD_GUILD_ID: '123456789012345678', DISCORD_API_BASE: 'http://127.0.0.1:9/api' },
    ],
  ])('for %s says so without the token', async (_, given) => {
    Object.assign(process.env, given);
    process.stdout.write = listen;
    process.stderr.write = listen;
    const code = await runCommand(['serve', '--db', ':memory:']);
    expect(code).toBeGreaterThan(0);
    expect(out.join('')).toContain('thawline: ');
    expect(out.join('')).not.toContain(TOKEN);
  });
});
