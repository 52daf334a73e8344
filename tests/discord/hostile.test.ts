/** What people on a server can write, name and forge: it changes nothing that is not theirs, mentions nobody, and stays words. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { say } from '../../src/reply/say.js';
import { realKnowledge } from '../support/knowledge.js';
import { aScene, content, expectSound, lastQuestion, openCase, posted, shownTo, type Scene } from './a-bot.js';
import type { Given } from './stand-in/interactions.js';
import type { Channel } from './stand-in/world.js';

let scene: Scene;
let thread: Channel;
beforeAll(async () => {
  scene = await aScene();
  thread = await openCase(scene, scene.ana, 'frost on the back wall of the freezer');
});
afterAll(() => scene.end());

const words = (key: string): string => say(realKnowledge(), 'homeowner', key);
const kept = (): unknown => {
  const { store } = scene.parts();
  return store.cases().map((id) => [store.load(id), store.events(id)]);
};
const told = async (given: Given): Promise<string> => {
  await scene.discord.until(() => given.answer);
  await posted(scene);
  return [content(given), ...given.followUps.map((f) => f.content)].join('');
};
const codeOf = (): string => scene.parts().store.cases()[0] ?? '';

describe('a forged button', () => {
  it.each([
    '',
    '1',
    '1.a',
    '1.a.POST.0.0',
    '1.a.nobody.0',
    '1.a.POST.99',
    '1.a.POST.-1',
    '2.a.POST.0',
    '1.x.POST',
    '1.m.__proto__',
    '1.s.constructor',
    "1.a.' OR 1=1 --.0",
    '1.w.12345678901234567',
    '1.p.12345678901234567',
    '1.o.12345678901234567',
    '1.d.CODE.erase',
    '1.d.ZZZZZZZZ.claim',
    '1.d.CODE.claim',
    `1.a.${'9'.repeat(90)}`,
  ])('%j changes nothing', async (id) => {
    const question = await lastQuestion(scene, thread);
    const own = /^1\.[a-z]\.([\w-]{10,25})/.exec(question.parts.find((p) => p.custom_id)?.custom_id ?? '')?.[1] ?? '';
    const before = kept();
    const forged = id.replace('POST', own).replace('CODE', codeOf());
    const given = scene.discord.people.pressStale(scene.ana, question, forged);
    expect(await told(given)).not.toBe('');
    expect(kept()).toEqual(before);
  });
});

describe('a forged code', () => {
  it.each(['ZZZZZZZZ', '00000000', "' OR 1=1 --", '__proto__', 'constructor', '%', '\u202eZZZZ', '../../etc/passwd'])(
    '%j is no case',
    async (code) => {
      const before = kept();
      for (const command of ['summary', 'resume'])
        expect(await told(scene.discord.people.slash(scene.ana, command, { code }, scene.discord.channel))).toBe(
          words('discord.no-case'),
        );
      expect(kept()).toEqual(before);
    },
  );
});

describe('hostile words', () => {
  const HOSTILE = [
    "'; DROP TABLE cases; --",
    '<script>alert(1)</script> <!-- ',
    '[x](javascript:alert(1)) # **@everyone** <@123456789012345678> <@&123456789012345678> ||x|| `x`',
    '\u202etcartser\u202c \u2066x\u2069 \u200b\u200b',
    '=HYPERLINK("http://x","y")',
    '__proto__ {contact} $& %s \\',
    `${'frost '.repeat(666)}end`,
  ];

  it.each(HOSTILE)('%j are taken and answered, and nothing is mentioned', async (text) => {
    const before = shownTo(scene, thread).length;
    const { discord, ana } = scene;
    const written = discord.people.say(ana, thread, text.slice(0, 4000));
    await discord.until(() => shownTo(scene, thread).length > before, 20_000);
    await posted(scene);
    const { store } = scene.parts();
    const said = store.messages(codeOf()).flatMap((m) => (m.said?.kind === 'text' ? [m.said.text] : []));
    expect(said.at(-1)).toBe(written.content.replaceAll(/[ \t]+/g, ' ').trim());
  });

  it('reach the technicians as words, with the name of who wrote them', async () => {
    const { discord, ana, desk, technicians } = scene;
    const eve = discord.addUser('@everyone **Eve** \u202eeve', { roles: [technicians] });
    discord.people.say(ana, thread, 'a person please');
    await discord.until(() => shownTo(scene, desk).length > 0, 20_000);
    const [item] = shownTo(scene, desk);
    if (!item) throw new Error('a case was handed over');
    const claimed = discord.people.press(eve, item, `1.d.${codeOf()}.claim`);
    await told(claimed);
    const form = discord.people.press(eve, item, `1.d.${codeOf()}.ask`);
    await discord.until(() => form.modal);
    await told(discord.people.submit(eve, form, { text: HOSTILE[2] ?? '' }));
    const all = [...shownTo(scene, thread), ...shownTo(scene, desk)].map((m) => m.content).join('\n');
    expect(all).toContain('Eve');
    expect(all).not.toMatch(/(?<!\\)\*\*@everyone|(?<!\\)<@|[\u202a-\u202e\u2066-\u2069]/);
  });
});

it('every message mentions nobody, and is one that Discord takes', () => {
  const bodies = scene.discord.kept.requests
    .filter((r) => ['POST', 'PATCH'].includes(r.method) && /\/messages(?:\/|$)/.test(r.path))
    .map((r) => r.body as { content?: string; allowed_mentions?: unknown } | undefined)
    .filter((b) => b?.content !== undefined);
  expect(bodies.length).toBeGreaterThan(10);
  for (const body of bodies) {
    expect(body?.allowed_mentions).toEqual({ parse: [] });
    expect(body?.content?.length).toBeLessThanOrEqual(2000);
  }
  expectSound(scene);
});
