/** Who may do what on Discord: one test for each cell of the second table in DEVELOPERS.md. Rules of our own, no outside source. */
import type { APIUser } from 'discord.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CaseState } from '../../src/case/state.js';
import { say } from '../../src/reply/say.js';
import { accessTable } from '../support/access-table.js';
import { realKnowledge } from '../support/knowledge.js';
import { aScene, content, expectSound, lastQuestion, openCase, posted, shownTo, type Scene } from './a-bot.js';
import type { Given } from './stand-in/interactions.js';
import type { Said } from './stand-in/said.js';
import type { Channel } from './stand-in/world.js';

const DANGER = 'burning-smell';
const words = (key: string, slots: Readonly<Record<string, string>> = {}): string =>
  say(realKnowledge(), 'technician', key, slots);
const plainly = (text: string): string => text.replaceAll(/[*_`]|\\/g, '');

let scene: Scene;
/** the owner's case with a question, and one that was handed over for a danger; the message in the technicians' channel */
let asking: Channel;
let handed: Channel;
let item: Said;
let people: Readonly<Record<string, APIUser>>;

beforeAll(async () => {
  scene = await aScene();
  const { discord, ana, bo, cleo, desk } = scene;
  const dora = discord.addUser('Dora');
  people = { 'caller, own thread': ana, "caller, another's": dora, technician: bo };
  asking = await openCase(scene, ana, 'frost on the back wall of the freezer');
  handed = await openCase(scene, ana, 'there is a burning smell');
  // even where somebody lets them into the thread
  for (const thread of [asking, handed]) for (const user of [dora, bo, cleo]) discord.people.invite(thread, user);
  await posted(scene);
  const [first] = shownTo(scene, desk);
  if (!first) throw new Error("nothing in the technicians' channel");
  item = first;
});
afterAll(async () => {
  expectSound(scene);
  await scene.end();
});

function caseIn(thread: Channel): { readonly id: string; readonly state: CaseState; readonly kept: unknown } {
  const { store } = scene.parts();
  const id = store.caseOf('discord', store.rooms.at(thread.id)?.conversation ?? '') ?? '';
  const state = store.load(id);
  if (!state) throw new Error('the thread has a case');
  return { id, state, kept: [state, store.events(id)] };
}

/** What only the person reads of a command or tap, once the bot has nothing more to say to it. */
async function told(given: Given): Promise<string> {
  await scene.discord.until(() => given.answer);
  await posted(scene);
  return plainly([content(given), ...given.followUps.map((f) => f.content)].join('\n'));
}

async function summary(who: APIUser, options: Readonly<Record<string, string>>, place: Channel): Promise<string> {
  const text = await told(scene.discord.people.slash(who, 'summary', options, place));
  return [words('discord.no-case'), say(realKnowledge(), 'homeowner', 'discord.no-case')].includes(text)
    ? 'not found'
    : 'yes';
}

/** One act of the desk, by a button that need not be in sight, and its form. */
async function deskAct(
  who: APIUser,
  act: string,
  fields: Readonly<Record<string, string | string[]>>,
): Promise<string> {
  const { people: hands } = scene.discord;
  const pressed = hands.pressStale(who, item, `1.d.${caseIn(handed).id}.${act}`);
  await scene.discord.until(() => pressed.answer);
  return told(pressed.modal ? hands.submit(who, pressed, fields) : pressed);
}

const FIELDS: Readonly<Record<string, Readonly<Record<string, string | string[]>>>> = {
  claim: {},
  ask: { text: 'Is it rented?' },
  'hand-back': { text: '' },
  clear: { hazard: [DANGER] },
  close: { cause: ['gasket-failed'], fixed: '', parts: '' },
};

/** A caller's press is refused, whoever they are; a technician's counts by the desk's own rules. */
async function atDesk(who: APIUser, act: string): Promise<string> {
  const { bo, cleo } = scene;
  const fields = FIELDS[act] ?? {};
  const before = caseIn(handed);
  const slots = { code: before.id, who: 'Bo (@bo)' };
  if (who !== bo) {
    expect(await deskAct(who, act, fields)).toBe(plainly(words('discord.not-desk')));
    expect(caseIn(handed).kept).toEqual(before.kept);
    return 'no';
  }
  const done = plainly(words(`discord.desk.acted.${act}`, slots));
  const taken = (name: string): string => plainly(words('discord.desk.refused.taken', { ...slots, who: name }));
  const nameOf = (): string => plainly(caseIn(handed).state.escalation?.claimedBy ?? '');
  if (act === 'claim') {
    expect(await deskAct(bo, act, fields)).toBe(done);
    expect(await deskAct(cleo, act, fields)).toBe(taken(nameOf()));
    return 'if nobody has it';
  }
  if (caseIn(handed).state.escalation?.claimedBy !== null) await deskAct(bo, 'hand-back', {});
  expect(await deskAct(bo, act, fields)).toBe(plainly(words('discord.desk.refused.not-claimed')));
  await deskAct(bo, 'claim', {});
  expect(await deskAct(cleo, act, fields)).toBe(taken(nameOf()));
  if (act === 'close') {
    scene.discord.people.say(scene.ana, handed, 'now there is smoke');
    await posted(scene);
    expect(await deskAct(bo, act, fields)).toContain('hazard stands');
    await deskAct(bo, 'clear', FIELDS['clear'] ?? {});
  }
  expect(await deskAct(bo, act, fields)).toBe(done);
  return act === 'close' ? 'if theirs, safe' : 'if theirs';
}

/** What is said in the owner's thread, by a tap or in words: it counts, or the thread says whose it is. */
async function speaks(who: APIUser, speak: () => unknown): Promise<string> {
  const before = caseIn(asking);
  const given = speak();
  await posted(scene);
  const { state, kept } = caseIn(asking);
  if (state.version > before.state.version) return 'yes';
  expect(kept).toEqual(before.kept);
  const heard = [
    ...shownTo(scene, asking).map((m) => m.content),
    given && typeof given === 'object' && 'followUps' in given ? await told(given as Given) : '',
  ].join('\n');
  expect(heard).toContain('belongs to someone else');
  return 'not theirs';
}

const ACTS: Readonly<Record<string, (who: APIUser) => Promise<string>>> = {
  'read, in the thread': (who) => summary(who, {}, asking),
  'read, by the code': (who) => summary(who, { code: caseIn(asking).id }, scene.discord.channel),
  'answer, by a tap': async (who) => {
    const question = await lastQuestion(scene, asking);
    const choice = question.parts.find((p) => /^1\.[asn]\./.test(p.custom_id ?? ''));
    if (!choice?.custom_id) throw new Error('the question has choices');
    const { custom_id: id, options } = choice;
    const hands = scene.discord.people;
    return speaks(who, () =>
      options ? hands.select(who, question, id, [options[0]?.value ?? '']) : hands.press(who, question, id),
    );
  },
  'answer, in words': (who) => speaks(who, () => scene.discord.people.say(who, asking, 'the fan is loud')),
  claim: (who) => atDesk(who, 'claim'),
  ask: (who) => atDesk(who, 'ask'),
  'hand back': (who) => atDesk(who, 'hand-back'),
  'clear a danger': (who) => atDesk(who, 'clear'),
  close: (who) => atDesk(who, 'close'),
  export: (who) => noCommand(who, 'export'),
  erase: (who) => noCommand(who, 'erase'),
};

function noCommand(who: APIUser, name: string): Promise<string> {
  expect(() => scene.discord.people.slash(who, name)).toThrow();
  return Promise.resolve('no');
}

describe('who may do what on Discord', () => {
  const cells = accessTable('## Who may do what on Discord');
  it('stands in a table of eleven acts and three kinds of people', () => expect(cells).toHaveLength(33));

  it.each(cells)('$who: $act: $what', async ({ act, who, what }) => {
    const person = people[who];
    if (!person) throw new Error(`nobody is called "${who}"`);
    expect(await ACTS[act]?.(person)).toBe(what);
  });
});
