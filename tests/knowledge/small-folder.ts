// A whole knowledge folder in a few texts: three causes, what the program needs by name, one entry of every kind. It
// loads without a mistake, so that a test can break one thing and see that one mistake, and nothing else, reported.

import { expect } from 'vitest';
import { loadKnowledge, type SourceText } from '../../src/knowledge/load.js';
import type { Mistake } from '../../src/knowledge/mistake.js';
import { NEEDED_FINDINGS } from '../../src/knowledge/named.js';

const both = (words: string): string => `{homeowner: ${words}, technician: ${words}}`;

const fault = (id: string, remedy: string, share: number, more = ''): string => `id: ${id}
system: draught
share: {value: ${share}, unit: percent-of-calls, source: from-memory}
${more}name: ${both(id)}
what: ${both('Air gets in.')}
shows: ${both('Frost at the door.')}
repair:
  homeowner:
    remedy: ${remedy}
    action: self-repair
    steps: [Shut the door.]
    verify: [The frost stays away.]
  technician:
    remedy: ${remedy}
    action: self-repair
    steps: [Align the door.]
    verify: [No new frost.]
prevent: {homeowner: [], technician: []}
cautions: {homeowner: [], technician: []}
onSite: {firstChecks: [the door], bring: [], skill: none}
examples: [frost at the door]
`;

const needed = (id: string): string => `id: ${id}
kind: context
values: [yes, no]
name: ${both('this')}
ask:
  homeowner: {question: Is it so?, why: It matters.}
  technician: {question: So?, why: Matters.}
minutes: {value: 1, unit: min, source: common-practice}
choices: {yes: ${both('so')}, no: ${both('otherwise')}}
says: {}
`;

const GAP = `id: door.gap
kind: symptom
values: [wide, narrow, none]
healthy: none
name: ${both('the gap')}
ask:
  homeowner: {question: Is there a gap?, why: Air gets in there.}
  technician: {question: Gap?, why: Infiltration.}
minutes: {value: 1, unit: min, source: common-practice}
applies: {unit.layout: {in: [yes]}}
needs: {open: [kick-plate]}
choices:
  wide: ${both('wide')}
  narrow: ${both('narrow')}
  none: ${both('none')}
likelihood:
  source: from-memory
  default: {wide: 0.1, narrow: seldom, none: usually}
  rows:
    door-ajar: {wide: 0.9}
    seal-torn: {narrow: 0.7, none: 0.2}
says:
  wide:
    phrases: ["big <gap-word>"]
    examples: [there is a big gap]
  none:
    phrases: [shuts tight]
    examples: [the door shuts tight]
`;

const ROOM = `part: room
name: ${both('the room')}
says: {phrases: [room], examples: [the room is warm]}
quantities:
  temperature:
    ask:
      homeowner: {question: How warm is the room?, why: Warm air holds water.}
      technician: {question: Room?, why: Load.}
    minutes: {value: 1, unit: min, source: common-practice}
    states: [ordinary, hot]
    healthy: ordinary
    judge: temperature
    values:
      warmest: {value: 32, unit: degC, source: published, ref: house-book}
    likelihood:
      source: from-memory
      default: {ordinary: 0.9, hot: 0.1}
      rows:
        draught: {ordinary: 0.6, hot: 0.4}
    why:
      good: ${both('ordinary')}
`;

const SMOKE = `id: smoke
level: stop
name: ${both('smoke')}
now: {homeowner: [Get out.], technician: [Get out.]}
not: {homeowner: [Do not go back.], technician: [Do not go back.]}
doubt: ${both('Is there smoke?')}
urgency: now
onSite: {firstChecks: [], bring: [], skill: none}
source: common-practice
phrases: [smoke]
examples: [there is smoke]
stopWith: [smoke]
`;

const FOOD = `id: food
phrases: [food safe]
examples: [is my food safe]
answer: {homeowner: [Throw it out.], technician: [Throw it out.]}
source: published
ref: house-book
`;

const CURVE = `id: ntc-sample
title: sample sensor
r25: {value: 5000, unit: ohm, source: common-practice}
beta: {value: 3900, unit: K, source: common-practice}
table:
  - {atC: -20, ohm: 40000}
  - {atC: 0, ohm: 16000}
  - {atC: 25, ohm: 5000}
tolerance: {kelvin: {value: 1, unit: K, source: common-practice}}
source: common-practice
`;

const FAMILY = `id: sample-family
title: Sample family (invented)
says: [sample family]
sensor: {curve: ntc-sample}
`;

const COSTS = `remedies:
  shut-door:
    homeowner: {value: 10, unit: min, source: from-memory}
    technician: {value: 10, unit: min, source: from-memory}
  new-seal:
    homeowner: {value: 50, unit: min, source: from-memory}
    technician: {value: 50, unit: min, source: from-memory}
wrong:
  homeowner: {value: 60, unit: min, source: from-memory}
  technician: {value: 60, unit: min, source: from-memory}
otherPart: {value: 30, unit: min, source: from-memory}
wrongAtLeast: {value: 30, unit: min, source: from-memory}
handOver:
  homeowner: {value: 90, unit: min, source: from-memory}
  technician: {value: 90, unit: min, source: from-memory}
licensedMissed: {value: 100, unit: min, source: from-memory}
waitHour: {value: 0.5, unit: min/h, source: from-memory}
perQuestion: {value: 1, unit: min, source: from-memory}
tiresAfter: {value: 9, unit: questions, source: from-memory}
mostQuestions: {value: 19, unit: questions, source: from-memory}
sureEnough: {value: 0.4, unit: chance, source: from-memory}
pairs: {value: 0.1, unit: times, source: from-memory}
repeatedWitness: {value: 0.2, unit: weight, source: from-memory}
repairWorks: {value: 0.9, unit: chance, source: from-memory}
ruledOutBelow: {value: 0.01, unit: chance, source: from-memory}
`;

const PLACES = `areas:
  yes: {value: 0.2, unit: m2, source: from-memory}
coil:
  area: {value: 0.3, unit: m2, source: from-memory}
  systems: [draught]
densities:
  yes: {value: 400, unit: kg/m3, source: from-memory}
usual:
  kind: yes
  thickness: {value: 10, unit: mm, source: from-memory}
  room: {value: 21, unit: degC, source: from-memory}
  frost: {value: -18, unit: degC, source: from-memory}
thickest: {value: 150, unit: mm, source: from-memory}
roomHeat:
  low: {value: 5, unit: W/m2K, source: from-memory}
  high: {value: 12, unit: W/m2K, source: from-memory}
thaws: [shut-door]
water:
  little: {value: 1, unit: L, source: from-memory}
  some: {value: 5, unit: L, source: from-memory}
`;

const DEFROST = `heater: {value: 400, unit: W, source: from-memory}
efficiency: {value: 0.3, unit: ratio, source: published, ref: house-book}
lasts: {value: 30, unit: min, source: from-memory}
shortest: {value: 6, unit: h, source: from-memory}
longest: {value: 96, unit: h, source: from-memory}
`;

const HEARING = `ask: {value: 0.2, unit: probability, source: from-memory}
doubt:
  stop: {value: 0.05, unit: probability, source: from-memory}
  caution: {value: 0.1, unit: probability, source: from-memory}
`;

const WAITS = `overdue:
  now: {value: 15, unit: min, source: from-memory}
  today: {value: 240, unit: min, source: from-memory}
  routine: {value: 2880, unit: min, source: from-memory}
afterRepair: {value: 24, unit: h, source: from-memory}
afterThaw:
  - {value: 168, unit: h, source: from-memory}
  - {value: 504, unit: h, source: published, ref: house-book}
quiet: {value: 72, unit: h, source: from-memory}
unanswered: {value: 168, unit: h, source: from-memory}
flood:
  waiting: {value: 6, unit: messages, source: from-memory}
  perMinute: {value: 20, unit: messages, source: from-memory}
night:
  from: {value: 21, unit: o'clock, source: from-memory}
  to: {value: 8, unit: o'clock, source: from-memory}
`;

const STUDY = `told: {homeowner: [door.gap], technician: [door.gap]}
notSure:
  homeowner: {value: 0.1, unit: chance, source: from-memory}
  technician: {value: 0.05, unit: chance, source: from-memory}
hardAtHome:
  room.temperature: {value: 0.5, unit: chance, source: from-memory}
noise: {value: 0.5, unit: "1", source: from-memory}
answers:
  door.gap: {homeowner: {wide: 0.5, none: 0.5}, technician: {none: 1}}
checklist: [door.gap, room.temperature]
`;

const TEXTS: Readonly<Record<string, string>> = {
  'systems.yaml': `draught:\n  name: ${both('the door')}\n`,
  'access.yaml': `kick-plate:
  name: ${both('the kick plate')}
  minutes: {value: 2, unit: min, source: from-memory}
  cautions: {homeowner: [], technician: []}
`,
  'costs.yaml': COSTS,
  'witnesses.yaml': `warm-air:
  why: One draught.
  members:
    - {finding: door.gap, values: [wide]}
    - room.temperature
`,
  'scale.yaml': 'usually: 0.8\nseldom: 0.1\n',
  'sources.yaml': 'house-book: {title: A book, where: on the shelf, read: the whole}\n',
  'places.yaml': PLACES,
  'defrost.yaml': DEFROST,
  'waits.yaml': WAITS,
  'study.yaml': STUDY,
  'hearing.yaml': HEARING,
  'faults/door-ajar.yaml': fault('door-ajar', 'shut-door', 60),
  'faults/seal-torn.yaml': fault('seal-torn', 'new-seal', 30),
  'faults/something-else.yaml': fault('something-else', 'shut-door', 10, 'concludable: false\n'),
  ...Object.fromEntries(Object.values(NEEDED_FINDINGS).map((id) => [`findings/${id}.yaml`, needed(id)])),
  'findings/door.gap.yaml': GAP,
  'readings/room.yaml': ROOM,
  'hazards/smoke.yaml': SMOKE,
  'lessons/smoke.yaml': 'id: smoke\ndanger: [grey stuff drifts about]\nharmless: [smoked ham]\n',
  'topics/food.yaml': FOOD,
  'curves/ntc-sample.yaml': CURVE,
  'units/sample-family.yaml': FAMILY,
  'language/gaps.yaml': 'gap-word:\n  words: [gap, crack]\n',
  'words/talk.yaml': `greeting: Hello.\nparting: ${both('Goodbye.')}\n`,
};

/** A change to one text: a place in it and what stands there instead. A whole new text is [null, text]. */
export type Change = readonly [from: string | null, to: string];

/** The small folder with changes by path; null takes a file away. A place that is not in the text is a bug of the test. */
export function smallFolder(changes: Readonly<Record<string, Change | null>> = {}): SourceText[] {
  const texts = new Map(Object.entries(TEXTS));
  for (const [path, change] of Object.entries(changes)) {
    if (change === null) {
      if (!texts.delete(path)) throw new Error(`there is no ${path} to take away`);
      continue;
    }
    const [from, to] = change;
    const before = from === null ? '' : (texts.get(path) ?? '');
    if (from !== null && before.split(from).length !== 2) throw new Error(`"${from}" stands not once in ${path}`);
    texts.set(path, from === null ? to : before.replace(from, () => to));
  }
  return sourceTexts(texts);
}

export const sourceTexts = (texts: Iterable<readonly [string, string]>): SourceText[] =>
  [...texts].map(([path, text]) => ({ path, file: `knowledge/${path}`, text }));

export function mistakesOf(texts: readonly SourceText[]): readonly Mistake[] {
  const loaded = loadKnowledge(texts, 'small');
  return loaded.ok ? [] : loaded.mistakes;
}

/** The number of the one line that holds `place`, counted from 1. */
export function lineWith(texts: readonly SourceText[], path: string, place: string): number {
  const lines = (texts.find((t) => t.path === path)?.text ?? '').split('\n');
  const found = lines.flatMap((line, i) => (line.includes(place) ? [i + 1] : []));
  expect(found, `lines of ${path} with "${place}"`).toHaveLength(1);
  return found[0] ?? 0;
}
