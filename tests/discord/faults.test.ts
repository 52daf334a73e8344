/** What goes wrong between the bot and Discord: nothing is lost, and nothing is said twice. */
import { afterEach, describe, expect, it } from 'vitest';
import type { Given } from './stand-in/interactions.js';
import type { Said } from './stand-in/said.js';
import type { Channel } from './stand-in/world.js';
import { aScene, control, expectSound, lastQuestion, openCase, posted, shownTo, type Scene } from './a-bot.js';

let scene: Scene;
afterEach(() => scene.end());

const SEND = 'POST /channels/:channel/messages';
const texts = (channel: Channel): string[] => shownTo(scene, channel).map((m) => m.content);
const nonces = (channel: Channel): unknown[] => shownTo(scene, channel).map((m) => m.nonce);
const said = (): { text: string; at: number }[] => {
  const { store } = scene.parts();
  return store
    .cases()
    .flatMap((id) =>
      store.messages(id).flatMap((m, at) => (m.said?.kind === 'text' ? [{ text: m.said.text, at }] : [])),
    );
};

/** The first answer that the question offers, in its menu. */
function tap(question: Said): Given {
  const id = control(question, 's');
  const [first] = question.parts.find((p) => p.custom_id === id)?.options ?? [];
  return scene.discord.people.select(scene.ana, question, id, [first?.value ?? '']);
}

async function aCase(settings: Parameters<typeof aScene>[0] = {}): Promise<Channel> {
  scene = await aScene(settings);
  return openCase(scene, scene.ana, 'frost on the back wall of the freezer');
}

/** The newest question changes: the answer to what was said has arrived. */
async function answered(thread: Channel, before: number): Promise<void> {
  await scene.discord.until(() => shownTo(scene, thread).length > before);
  await posted(scene);
}

describe('a send', () => {
  const TROUBLES: Readonly<Record<string, () => void>> = {
    'gets 500 several times': () => scene.discord.faults.fail(SEND, { times: 5 }),
    'gets 429': () => scene.discord.faults.limit(SEND, { retryAfter: 0.2, times: 2 }),
    'gets 429 for everything': () => scene.discord.faults.limit(SEND, { retryAfter: 0.2, global: true }),
    'loses its socket before it arrives': () => scene.discord.faults.drop(SEND, { when: 'before' }),
    'loses its socket after the message was made': () => scene.discord.faults.drop(SEND, { when: 'after' }),
  };

  it.each(Object.entries(TROUBLES))('%s: one message', async (_, trouble) => {
    const thread = await aCase();
    const before = shownTo(scene, thread).length;
    trouble();
    scene.discord.people.say(scene.ana, thread, 'the fan is loud');
    await answered(thread, before);
    expect(shownTo(scene, thread)).toHaveLength(before + 1);
    expect(new Set(nonces(thread)).size).toBe(before + 1);
    expectSound(scene);
  });

  it('whose answer comes too late, after the message was made: one message, by its nonce', async () => {
    const thread = await aCase({ timeoutMs: 300 });
    const before = shownTo(scene, thread).length;
    const sends = (): number => scene.discord.kept.to(SEND).length;
    const sent = sends();
    const release = scene.discord.faults.hold(SEND);
    scene.discord.people.say(scene.ana, thread, 'the fan is loud');
    await scene.discord.until(() => sends() > sent + 1);
    await posted(scene);
    release();
    expect(shownTo(scene, thread)).toHaveLength(before + 1);
    expectSound(scene);
  });
});

describe('what Discord sends', () => {
  it('twice is taken once: words and taps', async () => {
    const thread = await aCase();
    const before = shownTo(scene, thread).length;
    scene.discord.gateway.deliverTwice();
    scene.discord.people.say(scene.ana, thread, 'the fan is loud');
    await answered(thread, before);
    expect(said().filter((m) => m.text === 'the fan is loud')).toHaveLength(1);
    const question = await lastQuestion(scene, thread);
    const count = shownTo(scene, thread).length;
    scene.discord.gateway.deliverTwice();
    tap(question);
    await answered(thread, count);
    expect(shownTo(scene, thread)).toHaveLength(count + 1);
    expect(scene.discord.kept.failures).toEqual([]);
  });

  it('is sent again when the connection was dropped and is resumed', async () => {
    const thread = await aCase();
    const before = shownTo(scene, thread).length;
    scene.discord.gateway.drop();
    scene.discord.people.say(scene.ana, thread, 'the fan is loud');
    await scene.discord.until(() => scene.discord.gateway.resumed === 1);
    await answered(thread, before);
    expect(said().filter((m) => m.text === 'the fan is loud')).toHaveLength(1);
    expect(texts(thread)).toHaveLength(before + 1);
    expectSound(scene);
  });

  it('never comes when the session is lost: what was written meanwhile is read in its order', async () => {
    const thread = await aCase();
    const before = shownTo(scene, thread).length;
    scene.discord.gateway.lose();
    scene.discord.people.say(scene.ana, thread, 'the fan is loud');
    scene.discord.people.say(scene.ana, thread, 'the door was shut');
    await scene.discord.until(() => scene.discord.gateway.identified === 2);
    await scene.discord.until(() => shownTo(scene, thread).length >= before + 2);
    await posted(scene);
    expect(
      said()
        .map((m) => m.text)
        .slice(-2),
    ).toEqual(['the fan is loud', 'the door was shut']);
    expectSound(scene);
  });
});

describe('a bot that starts again', () => {
  it('does not send again what was sent and not written down', async () => {
    const thread = await aCase();
    const before = shownTo(scene, thread).length;
    const release = scene.discord.faults.hold(SEND);
    scene.discord.people.say(scene.ana, thread, 'the fan is loud');
    await scene.discord.until(() => shownTo(scene, thread).length > before);
    await scene.crash();
    release();
    const sends = scene.discord.kept.to(SEND).length;
    await scene.start();
    await scene.discord.until(() => scene.discord.kept.to(SEND).length > sends);
    await posted(scene);
    expect(shownTo(scene, thread)).toHaveLength(before + 1);
    expectSound(scene);
  });

  it('reads what was written meanwhile, and a button of before still answers', async () => {
    const thread = await aCase();
    const question = await lastQuestion(scene, thread);
    const before = shownTo(scene, thread).length;
    await scene.stop();
    const lost = tap(question);
    await scene.start();
    await posted(scene);
    // Discord gives a tap to nobody later: the person sees that it failed, and taps again
    expect(lost.answer).toBeUndefined();
    const again = tap(question);
    await answered(thread, before);
    expect(again.answer?.afterMs).toBeLessThan(3000);
    expect(shownTo(scene, thread)).toHaveLength(before + 1);
    const count = shownTo(scene, thread).length;
    await scene.stop();
    scene.discord.people.say(scene.ana, thread, 'the fan is loud');
    await scene.start();
    await answered(thread, count);
    expect(said().filter((m) => m.text === 'the fan is loud')).toHaveLength(1);
    expect(scene.discord.kept.failures).toEqual([]);
  });
});
