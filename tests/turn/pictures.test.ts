// A picture on request: which one, where it is told to be, and that its numbers answer.
import { expect, test } from 'vitest';
import { newCase, type CaseState } from '../../src/case/state.js';
import type { Role } from '../../src/knowledge/facts.js';
import type { Said } from '../../src/message/incoming.js';
import { frostPlaces, layouts } from '../../src/pictures/frost-places.js';
import { turn, type Turned } from '../../src/turn.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const AT = '2026-11-25T10:00:00.000Z';

/** A talk on a channel that can show a picture, or cannot. */
function seeing(role: Role = 'homeowner', canShow = true): (said: Said | string) => Turned {
  let state: CaseState = newCase(AT, role);
  let ids = 0;
  return (said) => {
    const turned = turn(
      knowledge,
      state,
      {
        conversation: 'kitchen',
        from: { id: 'u1', role },
        id: null,
        at: null,
        said: typeof said === 'string' ? { kind: 'text', text: said } : said,
      },
      {
        now: AT,
        newId: () => `e${(ids += 1)}`,
        caseId: 'K7WX2M9P',
        contact: null,
        greeted: true,
        pagePath: null,
        notes: [],
        ...(canShow ? { picturePath: (name) => `pictures/${name}.png` } : {}),
      },
    );
    state = turned.state;
    return turned;
  };
}

const answers = (finding: string, value: string): Said => ({ kind: 'answer', finding, value });

test.each(layouts)('%s: every number of the drawing, typed, is its place', (layout) => {
  const { places } = frostPlaces(layout, { dispenser: true, labels: (value) => value, title: 'x' });
  for (const { number, value } of places) {
    const say = seeing();
    say(answers('unit.layout', layout));
    say(answers('unit.ice-dispenser', 'yes'));
    const { picture, answer } = say('show me a picture');
    expect(picture).toMatchObject({ name: 'frost' });
    expect(picture?.alt).toContain(`${number}: `);
    expect(answer.reply).toContain('pictures/frost.png');
    expect(answer.ask?.finding).toBe('frost.location');
    expect(say(`number ${number}`).answer.understood).toMatchObject([{ finding: 'frost.location', value }]);
  }
});

test('the place is offered a drawing where one can be shown, and only there', () => {
  const asked = (canShow: boolean): string => {
    const say = seeing('homeowner', canShow);
    let { answer } = say(answers('unit.layout', 'top-freezer'));
    for (let n = 0; n < 12 && answer.ask?.finding !== 'frost.location'; n += 1)
      answer = say(answers(answer.ask?.finding ?? answer.ask?.reading ?? '', 'not-sure')).answer;
    expect(answer.ask?.finding).toBe('frost.location');
    return answer.reply;
  };
  expect(asked(true)).toMatch(/Write "picture" to see a drawing/);
  expect(asked(false)).not.toMatch(/picture/);
});

test('a chart of a sensor’s readings, and the question stands', () => {
  const say = seeing('technician');
  const before = say('SxS, FF warm, 5.4k at 73F on the sensor').answer.ask;
  const { picture, answer } = say('chart please');
  expect(picture).toMatchObject({ name: 'sensor' });
  expect(picture?.alt).toMatch(/5\.4 kΩ at 73 °F/);
  expect(answer.reply).toContain('pictures/sensor.png');
  expect(answer.ask).toMatchObject({ finding: before?.finding, reading: before?.reading });
  say('22.1k at 32F on the sensor');
  expect(say('show me the chart').picture?.alt).toMatch(/1: 5\.4 kΩ at 73 °F.*2: 22\.1 kΩ at 32 °F/s);
});

test('a chart of nothing is the drawing of places', () => {
  const say = seeing();
  expect(say('show me a chart').picture?.name).toBe('frost');
});

test('in the words and the layout of the one who asks', () => {
  const say = seeing('technician');
  say(answers('unit.layout', 'chest-freezer'));
  expect(say('drawing').picture?.alt).toMatch(/^Frost: which number\?\n1: Freezer rear panel/);
});

test('none while a danger stands, and none where none can be shown', () => {
  const say = seeing();
  say('there is smoke coming out of the fridge');
  const inDanger = say('show me a picture');
  expect(inDanger.picture).toBeNull();
  expect(inDanger.answer.reply).not.toMatch(/pictures\/|picture here/);
  const blind = seeing('homeowner', false)('show me a picture');
  expect(blind.picture).toBeNull();
  expect(blind.answer.reply).toMatch(/cannot show a picture here/);
});

test.each(['show me how', 'I took a picture of it', 'what does the timer do'])('"%s" asks for none', (text) => {
  const say = seeing();
  say(answers('cooling.freezer', 'normal'));
  expect(say(text).picture).toBeNull();
});

test('after the advice it is shown, and how it went stays the question', () => {
  const say = seeing();
  say(answers('door.left-open-recently', 'yes'));
  let ask = say(answers('frost.kind', 'soft-snow')).answer.ask;
  const known: Readonly<Record<string, string>> = {
    'frost.location': 'all-over',
    'gasket.paper-test': 'grips-all-round',
    'gasket.condition': 'clean-and-flat',
    'door.closes-fully': 'yes',
    'usage.room': 'hot-or-humid',
    'cooling.freezer': 'normal',
    'cooling.fresh-food': 'normal',
    'frost.onset': 'after-door-left-open',
  };
  let last: Turned | null = null;
  for (let n = 0; n < 30 && ask && !last?.answer.conclusion; n += 1) {
    const id = ask.finding ?? ask.reading ?? '';
    last = say(answers(id, known[id] ?? 'not-sure'));
    ask = last.answer.ask;
  }
  expect(last?.answer.conclusion?.fault).toBe('moisture-load');
  // the thaw in figures opens the steps: 1.2 m2 of soft snow, 10 mm taken, is 1.8 litres
  expect(last?.answer.conclusion?.steps[0]).toMatch(
    /^Be ready for about 2 quarts of water.*so I took 0\.39 inches\..*hours/,
  );
  expect(last?.answer.reply).toContain('about 2 quarts of water');
  const { picture, answer } = say('picture');
  expect(picture?.name).toBe('frost');
  expect(answer.ask?.finding).toBe('repair.result');
});
