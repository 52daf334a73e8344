// The stand-in of Discord, held against the real library: what a bot sees of it is what discord.js makes of it.

import {
  ActionRowBuilder,
  AttachmentBuilder,
  ButtonBuilder,
  ButtonStyle,
  ChannelType,
  Client,
  Events,
  GatewayIntentBits,
  LabelBuilder,
  MessageFlags,
  ModalBuilder,
  Partials,
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
  discord = await startStandIn(settings);
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
