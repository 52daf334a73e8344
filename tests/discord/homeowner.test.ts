/** A homeowner's case from the first command to the end, by taps alone; and one in words. */
import { afterEach, describe, expect, it } from 'vitest';
import type { Said } from './stand-in/said.js';
import {
  altsOf,
  aScene,
  content,
  control,
  expectSound,
  lastQuestion,
  openCase,
  posted,
  shownTo,
  type Scene,
} from './a-bot.js';

let scene: Scene;
afterEach(() => scene.end());

const labels = (message: Said): string[] => message.parts.flatMap((p) => p.label ?? []);

describe('a homeowner on Discord', () => {
  it('opens a case with a form, and answers by taps until the freezer works again', async () => {
    scene = await aScene();
    const { discord, ana } = scene;
    const asked = discord.people.slash(ana, 'case', {}, discord.channel);
    await discord.until(() => asked.modal);
    const sent = discord.people.submit(ana, asked, { text: 'there is something wrong with my freezer' });
    await discord.until(() => content(sent).includes('<#'));
    const [thread] = discord.threads();
    if (!thread) throw new Error('no thread was opened');
    // a private thread, which nobody may invite to, with its code in its name
    expect(thread.type).toBe(12);
    expect(thread.thread_metadata).toMatchObject({ invitable: false });
    expect(discord.membersOf(thread)).toContain(ana.id);
    const conversation = scene.parts().store.rooms.at(thread.id)?.conversation ?? '';
    const caseId = scene.parts().store.caseOf('discord', conversation) ?? '';
    expect(thread.name).toContain(caseId);

    let drawings = 0;
    let questions = 0;
    let message = await lastQuestion(scene, thread);
    for (; questions < 30 && !labels(message).includes('Yes, it is fixed'); questions += 1) {
      // always "not sure", always a way to a person
      expect(labels(message)).toEqual(expect.arrayContaining(['Not sure', 'A person, please']));
      for (const file of message.files) {
        expect(file.name).toMatch(/\.png$/);
        expect(altsOf(scene, message)[0]).toMatch(/freezer|frost/i);
        drawings += 1;
      }
      const menu = message.parts.find((p) => p.custom_id?.startsWith('1.s.'));
      if (menu?.custom_id) discord.people.select(ana, message, menu.custom_id, [menu.options?.[0]?.value ?? '']);
      else if (message.parts.some((p) => p.custom_id?.startsWith('1.a.')))
        discord.people.press(ana, message, control(message, 'a'));
      const before = message;
      message = await lastQuestion(scene, thread);
      expect(message.id).not.toBe(before.id);
      // an answered question has no controls any more, and says what was answered
      expect(before.parts.filter((p) => p.custom_id)).toEqual([]);
      expect(before.content).toContain('Answered: ');
    }
    expect(drawings).toBeGreaterThan(0);
    discord.people.press(ana, message, control(message, 'a', /^Yes, it is fixed/));
    await posted(scene);
    expect(scene.parts().store.load(caseId)?.closed).toBe(true);
    expectSound(scene);
  });

  it('is understood in words, in a direct message that becomes the case', async () => {
    scene = await aScene();
    const { discord, ana } = scene;
    const dm = discord.people.dm(ana);
    discord.people.say(ana, dm, 'Frost all over the back wall of my freezer and the fridge is warm');
    let message = await lastQuestion(scene, dm);
    expect(discord.messages(dm)[1]?.content).toContain('I am Thawline');
    expect(discord.threads()).toEqual([]);
    discord.people.say(ana, dm, 'why');
    await posted(scene);
    discord.people.say(ana, dm, "I don't know");
    const next = await lastQuestion(scene, dm);
    expect(next.id).not.toBe(message.id);
    message = next;
    discord.people.say(ana, dm, 'a person please');
    await posted(scene);
    const inDesk = shownTo(scene, scene.desk);
    expect(inDesk).toHaveLength(1);
    expect(inDesk[0]?.files.map((f) => f.name)).toEqual([
      expect.stringMatching(/\.md$/),
      expect.stringMatching(/\.html$/),
    ]);
    expectSound(scene);
  });

  it('is told the danger first, by words and signs and not by colour', async () => {
    scene = await aScene();
    const { discord, ana } = scene;
    const thread = await openCase(scene, ana, 'there is a burning smell behind the freezer');
    const [first] = discord.botMessages(thread);
    expect(first?.content).toMatch(/^# ⛔ STOP: /);
    expect(shownTo(scene, scene.desk)[0]?.content).toMatch(/^## ⛔ GO NOW/);
    expectSound(scene);
  });
});
