/** One person sends more than can be read: they are told so, danger is heard all the same, the others are answered. */
import { afterEach, expect, it } from 'vitest';
import { aScene, content, control, expectSound, lastQuestion, openCase, posted, shownTo, type Scene } from './a-bot.js';

let scene: Scene;
afterEach(() => scene.end());

const TOO_FAST = 'You are faster than I am';
const spoken = (text: string): number => {
  const { store } = scene.parts();
  const all = store.cases().flatMap((id) => store.messages(id));
  return all.filter((m) => m.said?.kind === 'text' && m.said.text.startsWith(text)).length;
};

it('words: what is beyond is left out, and told', async () => {
  scene = await aScene({ limits: { waiting: 3, perMinute: 1000 } });
  const { discord, ana, bo } = scene;
  const hers = await openCase(scene, ana, 'frost on the back wall of the freezer');
  const his = await openCase(scene, bo, 'SxS, FF warm, evap full blanket of frost');
  const before = shownTo(scene, his).length;
  for (let n = 0; n < 40; n += 1) discord.people.say(ana, hers, `what do you know so far, ${n}`);
  discord.people.say(bo, his, 'htr OL');
  discord.people.say(ana, hers, 'now there is smoke behind the freezer');
  await posted(scene);
  expect(spoken('what do you know so far')).toBeLessThan(40);
  expect(spoken('what do you know so far')).toBeGreaterThanOrEqual(3);
  const notes = shownTo(scene, hers).filter((m) => m.content.includes(TOO_FAST));
  expect(notes.length).toBeGreaterThanOrEqual(1);
  expect(notes.length).toBeLessThanOrEqual(40 - spoken('what do you know so far'));
  expect(spoken('now there is smoke')).toBe(1);
  const alarm = shownTo(scene, hers).find((m) => m.content.startsWith('# ⛔ STOP: '));
  const answers = shownTo(scene, hers).filter((m) => m.content.includes('This is what I know'));
  expect(BigInt(alarm?.id ?? 0)).toBeLessThan(BigInt(answers.at(-1)?.id ?? 0));
  // the other is answered while the flood is not read to its end
  expect(shownTo(scene, his)).toHaveLength(before + 1);
  expect(shownTo(scene, his).some((m) => m.content.includes(TOO_FAST))).toBe(false);
  expect(BigInt(shownTo(scene, his).at(-1)?.id ?? 0)).toBeLessThan(BigInt(answers.at(-1)?.id ?? 0));
  expectSound(scene);
});

it('taps and commands: each is acknowledged, and who sends too many is told', async () => {
  scene = await aScene({ limits: { waiting: 1, perMinute: 1000 } });
  const { discord, ana } = scene;
  const thread = await openCase(scene, ana, 'frost on the back wall of the freezer');
  const question = await lastQuestion(scene, thread);
  for (let n = 0; n < 12; n += 1) discord.people.press(ana, question, control(question, 'y'));
  const commands = Array.from({ length: 5 }, () => discord.people.slash(ana, 'summary', {}, thread));
  await posted(scene);
  await discord.until(() => commands.every((c) => content(c) !== ''));
  const told = discord.interactions.filter((i) => i.followUps.some((m) => m.content.includes(TOO_FAST)));
  expect(told.length).toBeGreaterThanOrEqual(1);
  expect(commands.some((c) => content(c).includes(TOO_FAST))).toBe(true);
  expect(scene.parts().store.inbox.undone()).toEqual([]);
  expectSound(scene);
});
