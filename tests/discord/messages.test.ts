/** Written messages: changed, deleted, with photos, with the bot's name, as replies; and without the intent to read them. */
import { readFileSync } from 'node:fs';
import { afterEach, describe, expect, it } from 'vitest';
import {
  aScene,
  caseIn,
  control,
  expectSound,
  lastQuestion,
  notSure,
  openCase,
  posted,
  shownTo,
  type Scene,
} from './a-bot.js';
import type { Said } from './stand-in/said.js';
import type { Channel } from './stand-in/world.js';

let scene: Scene;
afterEach(() => scene.end());

const stored = (channel: Channel) => scene.parts().store.messages(caseIn(scene, channel));
const texts = (channel: Channel): string[] =>
  stored(channel).flatMap((m) => (m.said?.kind === 'text' ? [m.said.text] : []));
const told = (channel: Channel, words: string): Said[] =>
  shownTo(scene, channel).filter((m) => m.content.includes(words));

describe('a written message', () => {
  it('that is changed is a correction, once; deleted, its words are gone and what was understood stays', async () => {
    scene = await aScene();
    const { discord, ana } = scene;
    const thread = await openCase(scene, ana, 'there is something wrong with my freezer');
    const message = discord.people.say(ana, thread, 'frost on the back wall of the freezer');
    await posted(scene);
    discord.gateway.deliverTwice();
    discord.people.edit(message, 'frost on the floor of the freezer');
    await posted(scene);
    const withdrawn = stored(thread).flatMap((m) => m.answer?.withdrawn ?? []);
    expect(withdrawn).toEqual([expect.objectContaining({ value: 'freezer-back-wall' })]);
    // Discord tells of a change also where no word has changed
    const count = stored(thread).length;
    discord.people.edit(message, 'frost on the floor of the freezer');
    await posted(scene);
    expect(stored(thread)).toHaveLength(count);
    discord.people.edit(message, 'frost on the back wall of the freezer');
    await posted(scene);
    expect(stored(thread)).toHaveLength(count + 1);

    const { store } = scene.parts();
    const bytes = (): string => readFileSync(store.path, 'utf8') + readFileSync(`${store.path}-wal`, 'utf8');
    expect(texts(thread)).toContain('frost on the back wall of the freezer');
    discord.people.remove(message);
    await posted(scene);
    expect(texts(thread).filter((t) => /back wall|floor/.test(t))).toEqual([]);
    store.sweep(true);
    expect(bytes()).not.toContain('frost on the back wall of the freezer');
    const known = discord.people.slash(ana, 'summary', {}, thread);
    await discord.until(() => known.original?.content.toLowerCase().includes('back wall'));
    expectSound(scene);
  });

  it('with the name of the bot opens a case in a thread; others are not for it', async () => {
    scene = await aScene();
    const { discord, ana } = scene;
    discord.people.say(ana, discord.channel, 'my freezer is full of frost');
    const hello = discord.people.say(ana, discord.channel, '', { mentionsBot: true });
    await discord.until(() => discord.botMessages(discord.channel).length === 1);
    expect(discord.botMessages(discord.channel)[0]?.api.message_reference?.message_id).toBe(hello.id);
    expect(discord.threads()).toEqual([]);
    discord.people.say(ana, discord.channel, 'frost on the back wall of my freezer', { mentionsBot: true });
    await discord.until(() => discord.botMessages(discord.channel).length === 2);
    const [thread, ...more] = discord.threads();
    expect(more).toEqual([]);
    expect(discord.botMessages(discord.channel)[1]?.content).toContain(`<#${thread?.id ?? ''}>`);
    expect(thread && texts(thread)).toEqual(['frost on the back wall of my freezer']);
    expectSound(scene);
  });

  it('with photos: kept as references, passed on to the desk, and said that nobody here sees them', async () => {
    scene = await aScene();
    const { discord, ana, desk } = scene;
    const thread = await openCase(scene, ana, 'frost on the back wall of my freezer');
    const bytes = Buffer.from('a photo of frost, invented');
    const attachments = [{ name: 'frost.jpg', type: 'image/jpeg', bytes }];
    const message = discord.people.say(ana, thread, '', { attachments });
    await posted(scene);
    expect(told(thread, 'I cannot see photos myself')).toHaveLength(1);
    const kept = scene
      .parts()
      .store.events(caseIn(scene, thread))
      .filter((e) => e.type === 'photo-kept');
    expect(kept.map((e) => e.ref)).toEqual([`${thread.id}/${message.id}/${message.api.attachments[0]?.id ?? ''}`]);
    discord.people.say(ana, thread, 'a person please');
    await posted(scene);
    const [item] = discord.botMessages(desk);
    const photo = item?.files.find((f) => f.name.endsWith('frost.jpg'));
    expect(photo?.bytes.equals(bytes)).toBe(true);
    expect(readFileSync(scene.parts().store.path).includes(bytes)).toBe(false);
    expectSound(scene);
  });
});

describe('without the intent to read messages', () => {
  it('buttons, forms, mentions and replies carry the whole talk, and it says so', async () => {
    scene = await aScene({ privileged: [] });
    const { discord, ana } = scene;
    expect(scene.notes()).toContainEqual(expect.stringContaining('Message Content intent is off'));
    const thread = await openCase(scene, ana, 'there is something wrong with my freezer');
    discord.people.say(ana, thread, 'the fan is loud');
    await posted(scene);
    expect(told(thread, 'I cannot read plain messages here')).toHaveLength(1);

    const question = await lastQuestion(scene, thread);
    const form = discord.people.press(ana, question, control(question, 'w'));
    await discord.until(() => form.modal);
    discord.people.submit(ana, form, { text: 'frost on the back wall' });
    await posted(scene);
    discord.people.say(ana, thread, 'the fridge is warm', { mentionsBot: true });
    await posted(scene);
    discord.people.say(ana, thread, 'the door was shut', { replyTo: await lastQuestion(scene, thread) });
    await posted(scene);
    expect(texts(thread).slice(1)).toEqual(['frost on the back wall', 'the fridge is warm', 'the door was shut']);
    let last = await lastQuestion(scene, thread);
    for (let n = 0; n < 3; n += 1) {
      const before = last.id;
      discord.people.press(ana, last, notSure(last));
      last = await lastQuestion(scene, thread);
      expect(last.id).not.toBe(before);
    }
    // read again after a start, the same
    await scene.stop();
    discord.people.say(ana, thread, 'a person please', { mentionsBot: true });
    await scene.start();
    await discord.until(() => discord.botMessages(scene.desk).length === 1);
    await posted(scene);
    expectSound(scene);
  });
});
