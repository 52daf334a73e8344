/** Controls that are old, forged or somebody else's change nothing; and a case is taken up again by its code. */
import { InteractionResponseType } from 'discord.js';
import { afterEach, describe, expect, it } from 'vitest';
import {
  aScene,
  caseIn,
  content,
  expectSound,
  lastQuestion,
  notSure,
  openCase,
  posted,
  shownTo,
  type Scene,
} from './a-bot.js';
import type { Channel } from './stand-in/world.js';

let scene: Scene;
afterEach(() => scene.end());

const stored = (channel: Channel): number => scene.parts().store.messages(caseIn(scene, channel)).length;
const FROST = 'frost on the back wall of my freezer';

describe('a control', () => {
  it('of an earlier question says that it was answered; one that was never made is not known', async () => {
    scene = await aScene();
    const { discord, ana, bo } = scene;
    const thread = await openCase(scene, ana, FROST);
    const other = await openCase(scene, bo, 'SxS, FF warm, evap full blanket of frost');
    const question = await lastQuestion(scene, thread);
    const old = notSure(question);
    discord.people.press(ana, question, old);
    const next = await lastQuestion(scene, thread);
    expect(next.id).not.toBe(question.id);
    const count = stored(thread);
    const stale = discord.people.pressStale(ana, question, old);
    await discord.until(() => content(stale) !== '');
    expect(content(stale)).toContain('already answered');

    const foreign = notSure(await lastQuestion(scene, other));
    const post = old.split('.')[2] ?? '';
    const FORGED = [
      'hello',
      '1.a',
      `2.n.${post}`,
      `1.a.${post}.99`,
      `1.n.${'x'.repeat(30)}`,
      '1.n.never-made',
      `1.p.${thread.id}`,
      foreign,
      `1.d.${caseIn(scene, thread)}.erase`,
      `1.n.${post};DROP TABLE cases`,
    ];
    for (const id of FORGED) {
      const forged = discord.people.pressStale(ana, next, id);
      await discord.until(
        () => content(forged) !== '' || forged.answer?.type === InteractionResponseType.DeferredMessageUpdate,
      );
      await posted(scene);
      expect(content(forged), id).toMatch(/do not know this button|already answered/);
      expect(forged.original?.onlyFor, id).toBe(ana.id);
    }
    expect(stored(thread)).toBe(count);
    expect((await lastQuestion(scene, thread)).id).toBe(next.id);
    expectSound(scene);
  });

  it("in another person's case is theirs alone; a technician may join, and is recorded as one", async () => {
    scene = await aScene();
    const { discord, ana, bo } = scene;
    const dora = discord.addUser('Dora');
    const thread = await openCase(scene, ana, FROST);
    discord.people.invite(thread, dora);
    discord.people.invite(thread, bo);
    const question = await lastQuestion(scene, thread);
    const count = stored(thread);
    const tap = discord.people.press(dora, question, notSure(question));
    await discord.until(() => content(tap).includes('belongs to someone else'));
    expect(tap.original?.onlyFor).toBe(dora.id);
    discord.people.say(dora, thread, 'just pull the plug');
    await posted(scene);
    expect(shownTo(scene, thread).at(-1)?.content).toContain('belongs to someone else');
    expect(stored(thread)).toBe(count);
    discord.people.say(bo, thread, 'htr OL');
    await posted(scene);
    const { store } = scene.parts();
    const last = store.messages(caseIn(scene, thread)).at(-1);
    expect(last).toMatchObject({ role: 'technician', person: expect.stringContaining('Bo') });
    expect(store.load(caseIn(scene, thread))?.readings).toHaveLength(1);
    expectSound(scene);
  });
});

describe('a case is taken up again', () => {
  it('by its person without a code, by its code from a direct message, and anew where the thread is gone', async () => {
    scene = await aScene();
    const { discord, ana, bo } = scene;
    const people = discord.people;
    const thread = await openCase(scene, ana, FROST);
    const code = caseIn(scene, thread);
    const own = people.slash(ana, 'resume', {}, discord.channel);
    await discord.until(() => content(own).includes(`<#${thread.id}>`));

    const dm = people.dm(bo);
    const wrong = people.slash(bo, 'resume', { code: 'ZZZZZZZZ' }, dm);
    await discord.until(() => content(wrong).includes('No such case'));
    const direct = people.slash(bo, 'resume', { code: code.toLowerCase() }, dm);
    await discord.until(() => content(direct).includes(code));
    await posted(scene);
    expect(caseIn(scene, dm)).toBe(code);
    people.say(bo, dm, 'htr OL');
    await posted(scene);
    expect(scene.parts().store.load(code)?.readings).toHaveLength(1);

    people.removeChannel(thread);
    const anew = people.slash(ana, 'resume', { code }, discord.channel);
    await discord.until(() => content(anew).includes(code) && discord.threads().length === 1);
    await posted(scene);
    const [second] = discord.threads();
    expect(second && caseIn(scene, second)).toBe(code);
    expect(second && discord.membersOf(second)).toContain(ana.id);
    expectSound(scene);
  });

  it('in a direct channel where a newer one has begun since', async () => {
    scene = await aScene();
    const { discord, ana } = scene;
    const dm = discord.people.dm(ana);
    discord.people.say(ana, dm, FROST);
    await lastQuestion(scene, dm);
    const first = caseIn(scene, dm);
    discord.people.slash(ana, 'case', { problem: 'water under the fridge' }, dm);
    await posted(scene);
    expect(caseIn(scene, dm)).not.toBe(first);
    const asked = discord.people.slash(ana, 'resume', { code: first }, dm);
    await discord.until(() => content(asked).includes(first));
    await posted(scene);
    expect(caseIn(scene, dm)).toBe(first);
    discord.people.say(ana, dm, 'the door was shut');
    await posted(scene);
    expect(scene.parts().store.messages(first).at(-1)?.said).toMatchObject({ text: 'the door was shut' });
    expectSound(scene);
  });
});
