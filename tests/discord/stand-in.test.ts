// The stand-in of Discord, held against the real library: what a bot sees of it is what discord.js makes of it.

import {
  ActionRowBuilder,
  AttachmentBuilder,
  ButtonBuilder,
  ButtonStyle,
  ChannelType,
  Client,
  type ChatInputCommandInteraction,
  DiscordAPIError,
  Events,
  GatewayIntentBits,
  LabelBuilder,
  MessageFlags,
  ModalBuilder,
  Partials,
  Routes,
  SlashCommandBuilder,
  StringSelectMenuBuilder,
  TextInputBuilder,
  TextInputStyle,
  type ClientOptions,
  type Interaction,
  type Message,
  type TextChannel,
} from 'discord.js';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { described } from './stand-in/described.js';
import type { Given } from './stand-in/interactions.js';
import { startStandIn, type StandIn, type StandInSettings } from './stand-in/stand-in.js';

const INTENTS = [
  GatewayIntentBits.Guilds,
  GatewayIntentBits.GuildMessages,
  GatewayIntentBits.DirectMessages,
  GatewayIntentBits.MessageContent,
];

let discord: StandIn;
let client: Client;
let errors: Error[];
const clients: Client[] = [];

async function start(settings: StandInSettings = {}, options: Partial<ClientOptions> = {}): Promise<void> {
  discord = await startStandIn({ stillClock: true, ...settings });
  client = await login(options);
}

async function login(options: Partial<ClientOptions> = {}): Promise<Client> {
  const base = discord.clientOptions();
  const made = new Client({
    intents: INTENTS,
    partials: [Partials.Channel],
    ...base,
    ...options,
    rest: { ...base.rest, ...options.rest },
  });
  clients.push(made);
  errors = [];
  made.on(Events.Error, (error) => errors.push(error));
  const ready = new Promise((resolve) => made.once(Events.ClientReady, resolve));
  await made.login(discord.token);
  await ready;
  return made;
}

async function end(): Promise<void> {
  for (const made of clients.splice(0)) await made.destroy();
  await discord.stop();
}

const here = (): TextChannel => client.channels.cache.get(discord.channel.id) as TextChannel;
const on = (handle: (interaction: Interaction) => Promise<unknown>): void => {
  client.on(Events.InteractionCreate, (interaction) => void handle(interaction).catch((e: Error) => errors.push(e)));
};
const register = (...names: string[]): Promise<unknown> =>
  client.application!.commands.set(names.map((n) => new SlashCommandBuilder().setName(n).setDescription(n)));
const code = (promise: Promise<unknown>): Promise<unknown> =>
  promise.then(
    () => 'no error',
    (error: unknown) => (error instanceof DiscordAPIError ? `${error.status}/${error.code}` : error),
  );
const button = (id: string): ActionRowBuilder<ButtonBuilder> =>
  new ActionRowBuilder<ButtonBuilder>().addComponents(
    new ButtonBuilder().setCustomId(id).setLabel(id).setStyle(ButtonStyle.Primary),
  );

afterEach(async () => {
  await end();
});

describe('what a bot does', () => {
  beforeEach(() => start());
  afterEach(() => {
    expect(discord.kept.failures).toEqual([]);
    expect(errors).toEqual([]);
  });

  test('login: the guild with its channel is there', () => {
    expect(client.user?.username).toBe('thawline');
    expect(client.guilds.cache.get(discord.guild.id)?.name).toBe('Cold rooms');
    expect(here().name).toBe('help');
  });

  test('a slash command with sub-commands and options is registered and answered', async () => {
    await client.application!.commands.set([
      new SlashCommandBuilder()
        .setName('case')
        .setDescription('A case')
        .addSubcommand((s) =>
          s
            .setName('open')
            .setDescription('Opens one')
            .addStringOption((o) => o.setName('text').setDescription('What is wrong').setRequired(true))
            .addAttachmentOption((o) => o.setName('photo').setDescription('A photo')),
        ),
    ]);
    on(async (i) => {
      if (!i.isChatInputCommand()) return;
      const photo = i.options.getAttachment('photo', true);
      const bytes = await (await fetch(photo.url)).text();
      await i.reply(`${i.options.getSubcommand()}: ${i.options.getString('text')} ${photo.name} ${bytes}`);
    });
    const ana = discord.addUser('Ana');
    const photo = { name: 'frost.png', type: 'image/png', bytes: Buffer.from('picture') };
    const given = discord.people.slash(ana, 'case open', { text: 'frost', photo });
    const answer = await discord.until(() => given.original);
    expect(answer.content).toBe('open: frost frost.png picture');
    expect(given.answer?.type).toBe(4);
    expect(() => discord.people.slash(ana, 'case open')).toThrow("needs the option 'text'");
    expect(() => discord.people.slash(ana, 'case')).toThrow('needs a subcommand');
    expect(() => discord.people.slash(ana, 'nothing')).toThrow("no 'nothing'");
  });

  test('defer, edit, follow up, read and delete', async () => {
    await register('wait');
    on(async (i) => {
      if (!i.isChatInputCommand()) return;
      await i.deferReply({ flags: MessageFlags.Ephemeral });
      await i.editReply('first');
      const more = await i.followUp({ content: 'more', flags: MessageFlags.Ephemeral });
      await i.editReply({ message: more.id, content: 'more, changed' });
      expect((await i.fetchReply()).content).toBe('first');
      await i.deleteReply(more.id);
      await i.editReply('last');
    });
    const ana = discord.addUser('Ana');
    const given = discord.people.slash(ana, 'wait');
    await discord.until(() => given.original?.content === 'last');
    expect(given.original?.onlyFor).toBe(ana.id);
    expect(given.original?.versions).toEqual(['', 'first', 'last']);
    expect(given.followUps.map((m) => [m.versions, m.removed])).toEqual([[['more', 'more, changed'], true]]);
    const force = { message: given.original?.id ?? '', force: true };
    await expect(here().messages.fetch(force)).rejects.toMatchObject({ code: 10008 });
  });

  test('a button updates its message, a select answers, a deferred update edits', async () => {
    await register('ask');
    const select = new StringSelectMenuBuilder()
      .setCustomId('where')
      .addOptions({ label: 'Back wall', value: 'back' }, { label: 'Door', value: 'door' });
    on(async (i) => {
      if (i.isChatInputCommand())
        await i.reply({ content: 'Is there frost?', components: [button('yes'), button('no')] });
      if (i.isButton() && i.customId === 'no') {
        await i.deferUpdate();
        await i.editReply({ content: 'Then no.', components: [] });
      }
      if (i.isButton() && i.customId === 'yes') {
        const row = new ActionRowBuilder<StringSelectMenuBuilder>().addComponents(select);
        await i.update({ content: 'Where?', components: [row] });
      }
      if (i.isStringSelectMenu()) await i.reply({ content: i.values.join(), withResponse: true });
    });
    const ana = discord.addUser('Ana');
    const [first, second] = [discord.people.slash(ana, 'ask'), discord.people.slash(ana, 'ask')];
    const asked = await discord.until(() => first.original);
    expect(asked.buttons.map((b) => b.custom_id)).toEqual(['yes', 'no']);
    const pressed = discord.people.press(ana, asked, 'yes');
    await discord.until(() => pressed.answer);
    expect(asked.content).toBe('Where?');
    expect(() => discord.people.press(ana, asked, 'yes')).toThrow("no 'yes'");
    expect(() => discord.people.select(ana, asked, 'where', ['roof'])).toThrow("does not offer 'roof'");
    const chosen = discord.people.select(ana, asked, 'where', ['door']);
    expect((await discord.until(() => chosen.original)).content).toBe('door');

    const other = await discord.until(() => second.original);
    discord.people.press(ana, other, 'no');
    await discord.until(() => other.content === 'Then no.');
    expect(other.buttons).toEqual([]);
  });

  test('a form is shown, filled in and taken', async () => {
    await register('form');
    on(async (i) => {
      if (i.isChatInputCommand()) {
        const input = new TextInputBuilder().setCustomId('volts').setStyle(TextInputStyle.Short).setMaxLength(5);
        const label = new LabelBuilder().setLabel('Voltage').setTextInputComponent(input);
        await i.showModal(new ModalBuilder().setCustomId('reading').setTitle('A reading').addLabelComponents(label));
      }
      if (i.isModalSubmit()) await i.reply(`${i.customId}: ${i.fields.getTextInputValue('volts')}`);
    });
    const ana = discord.addUser('Ana');
    const given = discord.people.slash(ana, 'form');
    const modal = await discord.until(() => given.modal);
    expect(modal.title).toBe('A reading');
    expect(() => discord.people.submit(ana, given, { volts: '123456' })).toThrow('1 to 5 characters');
    const sent = discord.people.submit(ana, given, { volts: '230' });
    expect((await discord.until(() => sent.original)).content).toBe('reading: 230');
  });

  test('completions', async () => {
    const option = new SlashCommandBuilder().setName('find').setDescription('Finds');
    option.addStringOption((o) => o.setName('part').setDescription('A part').setAutocomplete(true));
    await client.application!.commands.set([option]);
    on(async (i) => {
      if (i.isAutocomplete()) await i.respond([{ name: `${i.options.getFocused()}er`, value: 'heater' }]);
    });
    const given = discord.people.complete(discord.addUser('Ana'), 'find', { part: 'heat' }, 'part');
    expect(await discord.until(() => given.choices)).toEqual([{ name: 'heater', value: 'heater' }]);
  });

  test('a private thread, a member added, a message in it heard, what is active listed', async () => {
    const ana = discord.addUser('Ana');
    const thread = await here().threads.create({ name: 'Case 1', type: ChannelType.PrivateThread, invitable: false });
    await thread.members.add(ana.id);
    const [made] = discord.threads();
    expect(made?.thread_metadata).toMatchObject({ archived: false, invitable: false });
    expect(discord.membersOf(made!)).toEqual([discord.bot.id, ana.id]);
    const heard = new Promise<Message>((resolve) => client.on(Events.MessageCreate, resolve));
    discord.people.say(ana, made!, 'is this the place');
    expect((await heard).content).toBe('is this the place');
    const active = await here().guild.channels.fetchActiveThreads();
    expect([...active.threads.keys()]).toEqual([thread.id]);
    expect(() => discord.people.say(discord.addUser('Bo'), made!, 'hello')).toThrow('does not see');
    await thread.setArchived(true);
    expect(made?.thread_metadata?.archived).toBe(true);
  });

  test('a message with a file and a nonce; the nonce makes it one', async () => {
    const send = (): Promise<Message> =>
      here().send({
        content: 'picture',
        files: [new AttachmentBuilder(Buffer.from('bytes'), { name: 'p.png', description: 'frost' })],
        nonce: 'n-1',
        enforceNonce: true,
      });
    const [one, two] = [await send(), await send()];
    expect(two.id).toBe(one.id);
    const [said, ...others] = discord.botMessages(discord.channel);
    expect(others).toEqual([]);
    expect(said?.nonce).toBe('n-1');
    expect(said?.files.map((f) => [f.name, f.bytes.toString()])).toEqual([['p.png', 'bytes']]);
    const attached = one.attachments.first()!;
    expect(attached.description).toBe('frost');
    expect(await (await fetch(attached.url)).text()).toBe('bytes');
    const changed = await one.edit({ content: 'other', attachments: [] });
    expect(changed.attachments.size).toBe(0);
    discord.clock.advance(10 * 60_000);
    expect((await send()).id).not.toBe(one.id);
  });

  test('messages are listed after an id, around one and up to a limit, newest first', async () => {
    const ana = discord.addUser('Ana');
    const all = ['a', 'b', 'c', 'd', 'e'].map((text) => discord.people.say(ana, discord.channel, text));
    const texts = async (how: object): Promise<string> =>
      [...(await here().messages.fetch({ cache: false, ...how })).values()].map((m) => m.content).join('');
    expect(await texts({ limit: 2 })).toBe('ed');
    expect(await texts({ after: all[1]!.id, limit: 2 })).toBe('dc');
    expect(await texts({ before: all[2]!.id })).toBe('ba');
    expect(await texts({ around: all[2]!.id, limit: 3 })).toBe('dcb');
  });

  test('direct messages, to and fro, edited and removed', async () => {
    const ana = discord.addUser('Ana');
    const dm = await (await client.users.fetch(ana.id)).createDM();
    await dm.sendTyping();
    await dm.send('hello');
    expect(discord.botMessages(discord.people.dm(ana)).map((m) => m.content)).toEqual(['hello']);
    const heard: string[] = [];
    client.on(Events.MessageCreate, (m) => heard.push(`made ${m.content}`));
    client.on(Events.MessageUpdate, (_, m) => heard.push(`edited ${m.content}`));
    client.on(Events.MessageDelete, () => heard.push('removed'));
    const said = discord.people.say(ana, discord.people.dm(ana), 'frost');
    discord.people.edit(said, 'ice');
    discord.people.remove(said);
    await discord.until(() => heard.length === 3);
    expect(heard).toEqual(['made frost', 'edited ice', 'removed']);
  });

  test('members with roles, a person reached by mention and by reply', async () => {
    const ana = discord.addUser('Ana', { roles: [discord.addRole('seniors')] });
    const member = await here().guild.members.fetch(ana.id);
    expect(member.roles.cache.map((r) => r.name)).toContain('seniors');
    const heard: Message[] = [];
    client.on(Events.MessageCreate, (m) => void (m.author.id === ana.id && heard.push(m)));
    const own = await here().send('question');
    discord.people.say(ana, discord.channel, 'hello', { mentionsBot: true });
    discord.people.say(ana, discord.channel, 'answer', { replyTo: discord.botMessages(discord.channel)[0]! });
    await discord.until(() => heard.length === 2);
    expect(heard.map((m) => m.mentions.users.has(client.user!.id))).toEqual([true, true]);
    expect(heard[1]?.reference?.messageId).toBe(own.id);
  });
});

describe('what Discord refuses', () => {
  const answered: unknown[] = [];
  beforeEach(async () => {
    answered.length = 0;
    await start();
  });

  /** Sends /go, and lets `handle` answer it; what that gave is in `answered`. */
  async function go(handle: (i: ChatInputCommandInteraction) => Promise<void>): Promise<Given> {
    await register('go');
    let done = false;
    on(async (i) => {
      if (i.isChatInputCommand()) await handle(i);
      done = true;
    });
    const given = discord.people.slash(discord.addUser('Ana'), 'go');
    await discord.until(() => done);
    return given;
  }

  test('a second answer: 400/40060', async () => {
    const given = await go(async (i) => {
      await i.reply('one');
      i.replied = false;
      answered.push(await code(i.reply('two')));
    });
    expect(answered).toEqual(['400/40060']);
    expect(given.original?.content).toBe('one');
    expect(given.refused.map((r) => r.code)).toEqual([40060]);
  });

  test('an answer after 3 s: 404/10062', async () => {
    const late = await go(async (i) => {
      discord.clock.advance(3100);
      answered.push(await code(i.reply('late')));
    });
    expect(answered).toEqual(['404/10062']);
    expect(late.answer).toBeUndefined();
    expect(late.original).toBeUndefined();
  });

  test("a change before the acknowledgement: 404/10015, after the webhook's 15 min: 401/50027", async () => {
    await go(async (i) => {
      answered.push(await code(i.webhook.editMessage('@original', 'early')));
      await i.deferReply();
      await i.editReply('in time');
      discord.clock.advance(15 * 60_000 + 1);
      answered.push(await code(i.editReply('late')), await code(i.followUp('late')));
    });
    expect(answered).toEqual(['404/10015', '401/50027', '401/50027']);
  });

  test('an answer of the wrong kind: 400/50035', async () => {
    await go(async (i) => {
      const route = Routes.interactionCallback(i.id, i.token);
      answered.push(await code(client.rest.post(route, { body: { type: 6 }, auth: false })));
      answered.push(await code(client.rest.post(route, { body: { type: 8, data: { choices: [] } }, auth: false })));
    });
    expect(answered).toEqual(['400/50035', '400/50035']);
  });

  test('missing permissions 403/50013, a hidden channel 403/50001, an unknown one 404/10003', async () => {
    const channel = here();
    discord.permit(discord.channel, 'CreatePrivateThreads', 'deny');
    expect(await code(channel.threads.create({ name: 'x', type: ChannelType.PrivateThread }))).toBe('403/50013');
    discord.permit(discord.channel, 'AttachFiles', 'deny');
    expect(await code(channel.send({ files: [Buffer.from('x')] }))).toBe('403/50013');
    discord.permit(discord.channel, 'SendMessages', 'deny');
    expect(await code(channel.send('x'))).toBe('403/50013');
    discord.permit(discord.channel, 'SendMessages', 'allow');
    expect(await code(channel.send('x'))).toBe('no error');
    discord.permit(discord.channel, 'ViewChannel', 'deny');
    expect(await code(channel.send('x'))).toBe('403/50001');
    expect(await code(client.channels.fetch('1234567890123456789'))).toBe('404/10003');
  });

  test('an unknown message 404/10008, somebody else’s 403/50005, no direct messages 403/50007', async () => {
    const ana = discord.addUser('Ana');
    const said = discord.people.say(ana, discord.channel, 'mine');
    expect(await code(here().messages.edit('1234567890123456789', 'x'))).toBe('404/10008');
    expect(await code(here().messages.edit(said.id, 'x'))).toBe('403/50005');
    discord.closeDms(ana);
    const user = await client.users.fetch(ana.id);
    expect(await code(user.send('hello'))).toBe('403/50007');
  });

  test('a locked thread 400/50083; an archived one opens again when written to', async () => {
    const thread = await here().threads.create({ name: 'Case 1', type: ChannelType.PrivateThread });
    const said = await thread.send('first');
    const [kept] = discord.threads();
    discord.people.archive(kept!);
    expect(await code(said.edit('changed'))).toBe('400/50083');
    expect(await code(thread.send('again'))).toBe('no error');
    expect(kept?.thread_metadata?.archived).toBe(false);
    discord.people.archive(kept!, { locked: true });
    expect(await code(thread.send('never'))).toBe('400/50083');
    discord.permit(discord.channel, 'ManageThreads', 'allow');
    expect(await code(thread.send('with the permission'))).toBe('no error');
  });

  const text = 'x'.repeat(4000);
  const row = (...ids: string[]): object => ({
    type: 1,
    components: ids.map((custom_id) => ({ type: 2, style: 1, label: 'b', custom_id })),
  });
  const bad: [name: string, path: string, body: object][] = [
    ['more than 2000 characters', 'content', { content: 'x'.repeat(2001) }],
    ['embeds of more than 6000 together', 'embeds', { embeds: [{ description: text }, { description: text }] }],
    [
      'more than five rows',
      'components',
      { content: 'x', components: ['1', '2', '3', '4', '5', '6'].map((id) => row(id)) },
    ],
    ['one custom_id twice', 'components', { content: 'x', components: [row('a', 'a')] }],
    ['a misspelt key', 'contnet', { content: 'x', contnet: 'x' }],
    ['a file that did not come', 'attachments.0.id', { content: 'x', attachments: [{ id: '0' }] }],
  ];
  const badByDescription: typeof bad = [
    [
      'a label of 81',
      'components.0.components.0.label',
      {
        components: [{ type: 1, components: [{ type: 2, style: 1, custom_id: 'a', label: 'x'.repeat(81) }] }],
      },
    ],
    ['a custom_id of 101', 'components.0.components.0.custom_id', { components: [row('x'.repeat(101))] }],
    ['a nonce of 26', 'nonce', { content: 'x', nonce: 'x'.repeat(26) }],
    ['an embed title of 257', 'embeds.0.title', { embeds: [{ title: 'x'.repeat(257) }] }],
    [
      'a misspelt key inside',
      'components.0.components.0.lable',
      {
        components: [{ type: 1, components: [{ type: 2, style: 1, custom_id: 'a', lable: 'x' }] }],
      },
    ],
  ];

  test.each(bad)('a message with %s: 400/50035', refuses);
  const byDescription = described ? '' : " (skipped: Discord's description is absent)";
  test.skipIf(!described).each(badByDescription)(`a message with %s: 400/50035${byDescription}`, refuses);

  async function refuses(_: string, path: string, body: object): Promise<void> {
    expect(await code(client.rest.post(Routes.channelMessages(discord.channel.id), { body }))).toBe('400/50035');
    expect(discord.kept.failures.flatMap((f) => f.faults.map((g) => g.path.join('.')))).toContain(path);
    expect(discord.messages(discord.channel)).toEqual([]);
  }

  test('an empty message: 400/50006, and when a change would empty it', async () => {
    expect(await code(client.rest.post(Routes.channelMessages(discord.channel.id), { body: {} }))).toBe('400/50006');
    const said = await here().send('x');
    expect(await code(said.edit({ content: '' }))).toBe('400/50006');
  });

  test('a command with a bad name: 400/50035', async () => {
    const body = [{ name: 'Bad Name', description: 'x', type: 1 }];
    expect(await code(client.rest.put(Routes.applicationCommands(discord.applicationId), { body }))).toBe('400/50035');
    expect(discord.kept.failures[0]?.faults[0]).toMatchObject({ path: ['0', 'name'] });
  });

  const field = { type: 18, label: 'Volts', component: { type: 4, custom_id: 'a', style: 1 } };
  async function showing(title: string, components: readonly object[]): Promise<void> {
    await go(async (i) => {
      const body = { type: 9, data: { custom_id: 'f', title, components } };
      const route = Routes.interactionCallback(i.id, i.token);
      answered.push(await code(client.rest.post(route, { body, auth: false })));
    });
  }

  test('a form without fields: 400/50035; with one it is shown', async () => {
    await showing('x', []);
    client.removeAllListeners(Events.InteractionCreate);
    await showing('x', [field]);
    expect(answered).toEqual(['400/50035', 'no error']);
  });

  test.skipIf(!described)(`a form with a title of 46: 400/50035${byDescription}`, async () => {
    await showing('x'.repeat(46), [field]);
    expect(answered).toEqual(['400/50035']);
    expect(discord.kept.failures[0]?.faults[0]?.path).toEqual(['data', 'title']);
  });

  test('a route that is not there: 404, and it is kept for the test to see', async () => {
    expect(await code(client.rest.get('/guilds/1/nothing'))).toBe('404/0');
    expect(discord.kept.unknown.map((r) => r.path)).toEqual(['/guilds/1/nothing']);
    expect(discord.kept.failures).toHaveLength(1);
  });
});

describe('the gateway in trouble', () => {
  const heard: string[] = [];
  async function listening(settings: StandInSettings = {}, options: Partial<ClientOptions> = {}): Promise<void> {
    heard.length = 0;
    await start(settings, options);
    client.on(Events.MessageCreate, (m) => heard.push(m.content));
  }
  const say = (words: string): void => void discord.people.say(discord.addUser('Ana'), discord.channel, words);

  test.each([
    ['the connection drops', () => discord.gateway.drop()],
    ['it closes with 4000', () => discord.gateway.close(4000)],
    ['it asks to reconnect', () => discord.gateway.reconnect()],
  ])('%s: the session is resumed, what was missed comes after', async (_, breaks) => {
    await listening();
    say('before');
    await discord.until(() => heard.length === 1);
    breaks();
    await discord.until(() => discord.gateway.live === 0);
    say('while away');
    await discord.until(() => discord.gateway.resumed === 1);
    say('after');
    await discord.until(() => heard.length === 3);
    expect(heard).toEqual(['before', 'while away', 'after']);
    expect(discord.gateway.identified).toBe(1);
  });

  test('op 9 true resumes on the same connection', async () => {
    await listening();
    discord.gateway.invalidate(true);
    await discord.until(() => discord.gateway.resumed === 1);
    say('after');
    await discord.until(() => heard.length === 1);
  });

  test.each([
    ['op 9 false', () => discord.gateway.invalidate(false)],
    ['a lost session', () => discord.gateway.lose()],
  ])('%s: a new session; what happened between is lost, but can be fetched', async (_, breaks) => {
    await listening();
    breaks();
    say('while away');
    await discord.until(() => discord.gateway.identified === 2);
    await discord.until(() => client.isReady());
    say('after');
    await discord.until(() => heard.length > 0);
    expect(heard).toEqual(['after']);
    const fetched = await here().messages.fetch({ after: '0' });
    expect(fetched.map((m) => m.content)).toEqual(['after', 'while away']);
  });

  test('a close with 4004 ends it', async () => {
    await listening();
    const gone = new Promise<number>((resolve) => client.on(Events.ShardDisconnect, ({ code: why }) => resolve(why)));
    discord.gateway.close(4004);
    expect(await gone).toBe(4004);
  });

  test('heartbeats that nobody acknowledges: the client comes back', async () => {
    await listening({ heartbeatEvery: 100 });
    discord.gateway.acknowledgesHeartbeats = false;
    await discord.until(() => discord.gateway.live === 0);
    discord.gateway.acknowledgesHeartbeats = true;
    await discord.until(() => discord.gateway.resumed === 1);
  });

  test('an interaction delivered twice: two events, the second answer 400/40060', async () => {
    await listening();
    await register('go');
    const got: unknown[] = [];
    on(async (i) => {
      if (i.isChatInputCommand()) got.push(await code(i.reply('here')));
    });
    discord.gateway.deliverTwice();
    discord.people.slash(discord.addUser('Ana'), 'go');
    await discord.until(() => got.length === 2);
    expect(got.map(String).toSorted((a, b) => a.localeCompare(b))).toEqual(['400/40060', 'no error']);
    expect(discord.botMessages(discord.channel)).toHaveLength(1);
  });

  test('an event that never comes', async () => {
    await listening();
    const ana = discord.addUser('Ana');
    discord.gateway.swallow();
    discord.people.say(ana, discord.channel, 'lost');
    discord.people.say(ana, discord.channel, 'heard');
    await discord.until(() => heard.length > 0);
    expect(heard).toEqual(['heard']);
  });

  test('without the intent words are empty, but in direct messages and where the bot is mentioned', async () => {
    await listening({ privileged: [] }, { intents: INTENTS.filter((n) => n !== GatewayIntentBits.MessageContent) });
    const ana = discord.addUser('Ana');
    const words = discord.people.say(ana, discord.channel, 'secret');
    discord.people.say(ana, discord.channel, 'mention', { mentionsBot: true });
    discord.people.say(ana, discord.people.dm(ana), 'direct');
    await discord.until(() => heard.length === 3);
    expect(heard).toEqual(['', `<@${discord.bot.id}> mention`, 'direct']);
    expect((await here().messages.fetch({ message: words.id, force: true })).content).toBe('');
    expect(words.content).toBe('secret');
  });

  test('a privileged intent that is not switched on: the login fails', async () => {
    discord = await startStandIn({ privileged: [] });
    await expect(login()).rejects.toThrow('Used disallowed intents');
  });

  test('a wrong token: the login fails', async () => {
    discord = await startStandIn();
    const made = new Client({ intents: INTENTS, ...discord.clientOptions() });
    clients.push(made);
    await expect(made.login('wrong.token')).rejects.toThrow('invalid token');
  });

  test('a private thread is told of only to members', async () => {
    await listening();
    const ana = discord.addUser('Ana');
    const thread = discord.people.thread(ana, discord.channel, { name: 'ours' });
    discord.people.say(ana, thread, 'not for the bot');
    discord.people.invite(thread, discord.bot);
    discord.people.say(ana, thread, 'for the bot');
    await discord.until(() => heard.length > 0);
    expect(heard).toEqual(['for the bot']);
  });
});

describe('REST in trouble', () => {
  const SEND = 'POST /channels/:channel/messages';
  const contents = (): string[] => discord.messages(discord.channel).map((m) => m.content);
  const statuses = (): unknown[] => discord.kept.to(SEND).map((r) => r.status);

  test.each([false, true])('429 (global: %s): the client waits and sends again', async (global) => {
    await start();
    discord.faults.limit(SEND, { retryAfter: 0.05, global });
    await here().send('x');
    expect(statuses()).toEqual([429, 200]);
    expect(contents()).toEqual(['x']);
  });

  test('500 twice, then it works; 502 for ever is given up', async () => {
    await start();
    discord.faults.fail(SEND, { times: 2 });
    await here().send('x');
    expect(statuses()).toEqual([500, 500, 200]);
    discord.faults.fail(SEND, { status: 502, times: Infinity });
    await expect(here().send('y')).rejects.toMatchObject({ status: 502 });
    discord.faults.clear();
    await here().send('z');
    expect(contents()).toEqual(['x', 'z']);
  });

  test.each([
    ['without a nonce: two messages', {}, 2],
    ['with one: one', { nonce: 'n', enforceNonce: true }, 1],
  ])('an answer that comes too late, %s', async (_, options, count) => {
    await start({}, { rest: { timeout: 150 } });
    const release = discord.faults.hold(SEND);
    await here().send({ content: 'x', ...options });
    release();
    expect(discord.kept.to(SEND)).toHaveLength(2);
    expect(contents()).toHaveLength(count);
  });

  test('the socket breaks before or after the effect', async () => {
    await start();
    discord.faults.drop(SEND, { when: 'before' });
    await expect(here().send('x')).rejects.toMatchObject({ code: 'UND_ERR_SOCKET' });
    expect(contents()).toEqual([]);
    discord.faults.drop(SEND, { when: 'after' });
    await expect(here().send('y')).rejects.toMatchObject({ code: 'UND_ERR_SOCKET' });
    expect(contents()).toEqual(['y']);
  });

  test('nothing can be reached, and then it can again', async () => {
    await start();
    await discord.refuse();
    // The first may still find the connection that was cut.
    await expect(here().send('w')).rejects.toThrow();
    await expect(here().send('x')).rejects.toMatchObject({ code: 'ECONNREFUSED' });
    await discord.accept();
    await discord.until(() => discord.gateway.live === 1);
    await here().send('y');
    expect(contents()).toEqual(['y']);
  });

  test('the token is revoked: 401, and from then on the client has none', async () => {
    await start();
    discord.faults.revoked = true;
    expect(await code(here().send('x'))).toBe('401/0');
    await expect(here().send('y')).rejects.toThrow('Expected token to be set');
  });

  test('trouble for a route that is not there is a mistake', async () => {
    await start();
    expect(() => discord.faults.fail('POST /nothing')).toThrow("no route 'POST /nothing'");
  });

  test('every request is kept with its time, body and status', async () => {
    await start();
    const before = discord.clock.now();
    await here().send('x');
    const [kept] = discord.kept.to(SEND);
    expect(kept).toMatchObject({ method: 'POST', status: 200, body: { content: 'x' }, uploads: [] });
    expect(kept?.at).toBeGreaterThanOrEqual(before);
  });
});
