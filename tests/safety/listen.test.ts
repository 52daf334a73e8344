import { describe, expect, test } from 'vitest';
import type { Hazard, Role } from '../../src/knowledge/facts.js';
import { listen, type Heard } from '../../src/safety/listen.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const hazards = [...knowledge.hazards.values()];
const ROLES: readonly Role[] = ['homeowner', 'technician', 'senior'];

const heard = (text: string, role: Role = 'homeowner'): Heard[] => listen(knowledge, text, role);
/** "gas-smell stop", with a question mark where it is only asked about. */
const raised = (text: string, role: Role = 'homeowner'): string[] =>
  heard(text, role).map((h) => `${h.hazard} ${h.level}${h.asked ? '?' : ''}`);
/** An example of a hazard that raises it in full, and nothing else. */
function plainly(id: string, role: Role = 'technician'): string {
  const example = knowledge.hazards.get(id)?.examples.find((e) => {
    const all = heard(e, role);
    return all.length === 1 && all[0]?.hazard === id && !all[0].asked;
  });
  if (example === undefined) throw new Error(`no example of ${id} raises it alone`);
  return example;
}

function levelOf(hazard: Hazard, role: Role, all: readonly Heard[]): 'stop' | 'caution' {
  const joined = hazard.stopWith.some((other) => all.some((h) => h.hazard === other && !h.asked));
  return hazard.level === 'stop' || hazard.stopFor.includes(role) || joined ? 'stop' : 'caution';
}

describe.each(hazards)('$id', (hazard) => {
  test.each(ROLES)('is raised by each of its examples, at its level for a %s', (role) => {
    const missed = hazard.examples.filter((example) => {
      const all = heard(example, role);
      const own = all.find((h) => h.hazard === hazard.id);
      return !own || own.level !== (own.asked ? 'caution' : levelOf(hazard, role, all));
    });
    expect(missed).toEqual([]);
  });

  test('and not by what only sounds like it, which is no other alarm either', () => {
    const alarms = hazard.harmless.flatMap((text) =>
      heard(text)
        .filter((h) => h.hazard === hazard.id || h.level === 'stop')
        .map((h) => `${text}: ${h.hazard}`),
    );
    expect(alarms).toEqual([]);
  });

  test('and points at words of the message', () => {
    for (const example of hazard.examples) for (const h of heard(example)) expect(example).toContain(h.span);
  });
});

describe('a stop hazard', () => {
  const stops = hazards.filter((h) => h.level === 'stop');

  test.each(stops)('$id stands first, before a caution in the same message', ({ id }) => {
    const text = `${plainly('tip-over')}. ${plainly(id)}.`;
    expect(heard(text, 'technician').map((h) => h.level)).toEqual(['stop', 'caution']);
  });

  test.each(stops.filter((h) => !h.act))('$id is no less one when it is asked about', ({ id }) => {
    expect(raised(`Is it safe to go on? ${plainly(id)}`, 'technician')).toContain(`${id} stop`);
  });

  test.each(stops)('$id is heard behind words of all kinds, in capitals, and twice over only once', ({ id }) => {
    const example = plainly(id);
    for (const text of [
      `Hello there. The fridge is ten years old, and it hums.\n${example}\nWhat do I do?`,
      example.toUpperCase(),
      `It is not cooling. ${example}`,
      `The light does not come on and the fan is silent; ${example}`,
      `${example}. ${example}.`,
    ])
      expect(
        raised(text, 'technician').filter((r) => r === `${id} stop`),
        text,
      ).toHaveLength(1);
  });
});

describe('what somebody only thinks of doing', () => {
  const acts = hazards.filter((h) => h.act);

  test.each(acts)('$id: asked about, it is cautioned against and no alarm', ({ id, examples }) => {
    const asked = examples.flatMap((e) => heard(e).filter((h) => h.hazard === id && h.asked));
    for (const h of asked) expect(h.level).toBe('caution');
  });

  test('done, it is an alarm, though it was asked about before', () => {
    expect(raised('Can I use a blowtorch on the ice? I used a blowtorch on the ice.')).toEqual([
      'open-flame-on-ice stop',
    ]);
    expect(raised('Can I use a blowtorch on the ice?')).toEqual(['open-flame-on-ice caution?']);
  });
});

describe('who speaks, and what comes together, decides the level', () => {
  test('cover off and power on: a stop for a homeowner, a caution for those who may', () => {
    const text = plainly('unsafe-live-work');
    expect(raised(text, 'homeowner')).toContain('unsafe-live-work stop');
    expect(raised(text, 'technician')).toEqual(['unsafe-live-work caution']);
    expect(raised(text, 'senior')).toEqual(['unsafe-live-work caution']);
  });

  test.each(hazards.filter((h) => h.stopWith.length > 0))(
    '$id with $stopWith.0 is a stop, alone a caution',
    ({ id, stopWith }) => {
      expect(raised(plainly(id), 'technician')).toEqual([`${id} caution`]);
      expect(raised(`${plainly(id)}. ${plainly(stopWith[0] ?? '')}.`, 'technician')).toContain(`${id} stop`);
    },
  );
});

describe('a denial', () => {
  test.each([
    'there is no smoke',
    'no smoke, no sparks, no smell of burning',
    'nobody got shocked',
    'I do not smell gas',
    'it does not smell burnt',
    'Smoke? No.',
    'the breaker never trips',
  ])('raises nothing: %s', (text) => {
    expect(raised(text)).toEqual([]);
  });

  test.each([
    ["it's not cooling, smoke coming out the back", 'burning-smell'],
    ['there is no leak and I smell gas', 'gas-smell'],
    ['no water on the floor, sparks from the plug', 'burning-smell'],
    ["isn't just warm, it's smoking", 'burning-smell'],
    ["I don't know why, I got a shock", 'electric-shock'],
    ["I'm not an expert, but I smell gas", 'gas-smell'],
    ['never smelled gas before but today I do smell gas', 'gas-smell'],
    ['I did not touch the plug, I got a shock from the door', 'electric-shock'],
    ["the fridge isn't cold. It smells burnt.", 'burning-smell'],
    ["it won't stop sparking", 'burning-smell'],
    ['no lights on, I smell gas', 'gas-smell'],
  ])('of something else does not hide a danger: %s', (text, hazard) => {
    expect(raised(text)).toContain(`${hazard} stop`);
  });

  test.fails('of something else, with nothing but a new "it" between: it hides the danger today', () => {
    expect(raised('without power it still sparks')).toContain('burning-smell stop');
  });
});

describe('letters that only look or count differently', () => {
  test.each([
    ['full-width letters', '\uff29 \uff53\uff4d\uff45\uff4c\uff4c \uff47\uff41\uff53'],
    ['typographic marks', 'There\u2019s smoke \u2014 I smell gas\u2026'],
    ['a small mistake', 'I smell buring plastik, something is burnning'],
    ['no marks at all', 'help theres smoke i smell gas'],
    ['zero-width spaces between the words', 'I\u200bsmell\u200bgas'],
  ])('%s', (_, text) => {
    expect(heard(text).some((h) => h.level === 'stop')).toBe(true);
  });

  test('a soft hyphen inside a word', () => {
    expect(heard('smo\u00adke from the back').map((h) => h.hazard)).toEqual(['burning-smell']);
  });

  // Unicode, DerivedCoreProperties (Default_Ignorable_Code_Point), and Standard Annex 9 (directional formatting)
  test.each(['\u200b', '\u00ad', '\u2060', '\u200d', '\u202e', '\u2066', '\u200f', '\u{e0041}', '\ufe0f'])(
    'each danger with %j between all the letters of its words',
    (sign) => {
      const missed = [...knowledge.hazards.values()].flatMap((hazard) =>
        hazard.examples.filter((example) => {
          const plain = heard(example).map((h) => h.hazard);
          const hidden = heard(example.replaceAll(/(?<=[a-z])(?=[a-z])/gi, sign)).map((h) => h.hazard);
          return plain.some((h) => !hidden.includes(h));
        }),
      );
      expect(missed).toEqual([]);
    },
  );
});

test('an ordinary talk about frost raises nothing', () => {
  const talk = [
    'there is frost on the back wall of the freezer',
    'the ice cream is soft, the fridge is cold',
    'the fan is silent and the compressor runs all day',
    'I measured 5.4 kohm at 73 F',
    'the door does not close by itself',
    'not sure',
    'yes',
    'the drain froze again after two weeks',
    'it hums and clicks off',
    'a timer from 1998, no board',
  ];
  expect(talk.flatMap((text) => ROLES.flatMap((role) => raised(text, role).map((r) => `${text}: ${r}`)))).toEqual([]);
});
