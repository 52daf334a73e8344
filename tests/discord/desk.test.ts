/** An escalation in the technicians' channel: posted once, claimed, asked back, answered, closed. */
import { afterEach, describe, expect, it } from 'vitest';
import { aScene, content, control, expectSound, openCase, posted, shownTo, type Scene } from './a-bot.js';

let scene: Scene;
afterEach(() => scene.end());

describe('an escalation on Discord', () => {
  it('is claimed, asked back, answered and closed with its cause', async () => {
    scene = await aScene();
    const { discord, ana, bo, cleo, desk } = scene;
    const thread = await openCase(scene, ana, 'frost on the back wall, fridge warm. a person please');
    await posted(scene);
    const [item, ...more] = discord.botMessages(desk);
    if (!item) throw new Error("nothing in the technicians' channel");
    expect(more).toEqual([]);
    expect(item.content).toContain('Situation: ');
    expect(item.content).toContain('Recommendation: ');

    const foreign = discord.people.press(ana, item, control(item, 'd'));
    await discord.until(() => foreign.answer);
    expect(content(foreign)).toContain('Only technicians');

    const claimed = discord.people.press(bo, item, control(item, 'd', /claim/i));
    await discord.until(() => content(claimed).includes('is yours'));
    await discord.until(() => item.content.includes('has it'));
    await discord.until(() => discord.botMessages(thread).some((m) => m.content.includes('has your case now')));

    const form = discord.people.press(bo, item, control(item, 'd', /ask/i));
    await discord.until(() => form.modal);
    const late = discord.people.press(cleo, item, control(item, 'd', /hand/i));
    await discord.until(() => late.modal);
    const taken = discord.people.submit(cleo, late, {});
    await discord.until(() => content(taken).includes('has this case'));

    // told twice by Discord, asked once
    discord.gateway.deliverTwice();
    discord.people.submit(bo, form, { text: 'Is the unit *rented*?' });
    await discord.until(() => discord.botMessages(thread).some((m) => m.content.includes('\\*rented\\*')));
    discord.people.say(ana, thread, 'no, I own it @everyone');
    await discord.until(() => discord.botMessages(desk).some((m) => m.content.includes('I own it')));
    expect(shownTo(scene, thread).filter((m) => m.content.includes('rented'))).toHaveLength(1);

    const close = discord.people.press(bo, item, control(item, 'd', /close/i));
    await discord.until(() => close.modal);
    discord.people.submit(bo, close, { cause: ['gasket-failed'], fixed: 'new seal', parts: '' });
    await discord.until(() => discord.botMessages(thread).some((m) => m.content.includes('closed your case')));
    await posted(scene);
    await discord.until(() => item.parts.every((p) => p.custom_id === undefined));
    const { store } = scene.parts();
    const caseId = store.caseOf('discord', store.rooms.at(thread.id)?.conversation ?? '') ?? '';
    expect(store.load(caseId)?.confirmed?.cause).toBe('gasket-failed');
    // the message, and the caller's answer
    expect(shownTo(scene, desk)).toHaveLength(2);
    expectSound(scene);
  });
});
