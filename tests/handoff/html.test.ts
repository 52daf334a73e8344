// The page to print: given a case, then these things stand on it, in the order in which they are needed.

import { describe, expect, test } from 'vitest';
import type { CaseEvent } from '../../src/case/events.js';
import { fold, type CaseState } from '../../src/case/state.js';
import { printable } from '../../src/handoff/html.js';
import type { Escalation } from '../../src/message/outgoing.js';
import { summaryOf } from '../../src/turn/summary.js';
import { desk, knowledge, type Desk } from '../desk/a-desk.js';

/** Words alone, as a reader sees them. */
const seen = (html: string): string =>
  html
    .replace(/<head>[^]*<\/head>/, '')
    .replaceAll(/<svg[^]*?<\/svg>/g, '')
    .replaceAll(/<\/(?:p|li|h1|h2|dd|td|th|tr)>/g, '\n')
    .replaceAll(/<[^>]*>/g, '')
    .replaceAll('&amp;', '&')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"');

const pageOf = (state: CaseState, change: Partial<Escalation> = {}): string => {
  const summary = summaryOf(knowledge, state, 'K7WX2M9P');
  if (!summary) throw new Error('nothing was handed over');
  return printable(knowledge, state, { ...summary, ...change }, 'us');
};
const stateOf = (d: Desk): CaseState => {
  const state = d.store.load(d.caseId());
  if (!state) throw new Error('no case');
  return state;
};

/** A technician's case with readings of all verdicts, then a shock. */
function shocked(): CaseState {
  const d = desk();
  const tech = { role: 'technician' } as const;
  d.says('SxS, FF warm, evap full blanket of frost, came back in 5 days after thaw, electronic control', tech);
  d.says('5.4k at 73F on the sensor', tech);
  d.says('heater reads OL', tech);
  d.says('got a tingle off the cabinet', tech);
  d.answers('unit.power', 'off', tech);
  return stateOf(d);
}

describe('a stop hazard', () => {
  const html = pageOf(shocked());
  const text = seen(html);

  test('stands first, then the state of the unit, then what the one who drives out needs, in this order', () => {
    const order = [
      'GO NOW: Hazard',
      'STOP: electric shock, live cabinet',
      'Nobody works on the unit before the danger is cleared on site.',
      'Power: plug out or breaker off (the technician there says,',
      'Not proved dead: treat it as live.',
      'Water: state not known.',
      'What caused the danger is not known.',
      'What is wrong',
      'Behind the frost most likely defrost heater open',
      'Measured',
      'Causes, the likeliest first',
      'Ruled out',
      'Not checked yet',
      'First checks on site',
      'Bring',
      'Then, once it is cleared: defrost heater open',
      'Bring for that as well',
      'Skill or licence',
      'Caller was told not to',
      'Contact',
    ];
    const places = order.map((words) => text.indexOf(words));
    expect(places.every((p) => p >= 0)).toBe(true);
    expect(places).toEqual([...places].sort((a, b) => a - b));
  });

  test('each reading has what was expected, against what, and its verdict in words', () => {
    expect(text).toMatch(
      /defrost sensor: 5\.4 kohm at 73 F \(\d\d:\d\d\)\n[\d.]+ to [\d.]+ kohm \(common practice\)\ngood/,
    );
    expect(text).toMatch(/defrost heater: OL \(\d\d:\d\d\)\n.*\nbad/);
  });

  test('each cause has its chance in words and in numbers', () => {
    expect(text).toMatch(/defrost heater open: (?:very likely|likely|virtually certain), \d\d\u00a0%/);
  });

  test('what needs power waits until the danger is cleared; a continuity test is not asked where the ohms are known', () => {
    const open = text.slice(text.indexOf('Not checked yet'), text.indexOf('First checks'));
    const live = open.split('\n').filter((line) => /voltage|volts|forced defrost|running/i.test(line));
    expect(live.length).toBeGreaterThan(0);
    for (const line of live) expect(line).toContain('Live: only once it is cleared.');
    expect(open).not.toMatch(/heater.*continuity/i);
  });

  test('no chart takes the place of what has to be read first', () => {
    expect(html).not.toContain('<figure>');
  });
});

test('without a danger a sensor reading has its curve, which tells itself without being seen', () => {
  const d = desk();
  d.says('5.4k at 73F on the sensor', { role: 'technician' });
  d.says('a person please', { role: 'technician' });
  expect(pageOf(stateOf(d))).toMatch(/<figure><svg [^>]*role="img"[^>]*><title>[^<]*5\.4/);
});

test('nothing comes from outside, and nothing runs', () => {
  const html = pageOf(shocked());
  const addresses = (html.match(/https?:[^\s"<]*/g) ?? []).filter((a) => a !== 'http://www.w3.org/2000/svg');
  expect(addresses).toEqual([]);
  expect(html).not.toMatch(/<(?:script|link|img|iframe|object|embed|form)\b|\son\w+=|url\(|@import|javascript:/i);
  expect(html).toContain(`content="default-src 'none'; style-src 'unsafe-inline'"`);
});

test('what a person wrote stands on it as words only', () => {
  const d = desk();
  d.says('a person please');
  d.acts({ act: 'claim' }, '<img src=x onerror=alert(1)>\u202egnp');
  const html = pageOf(stateOf(d));
  expect(html).not.toContain('<img');
  expect(html).not.toContain('\u202e');
  expect(seen(html)).toContain('Claimed by <img src=x onerror=alert(1)>gnp.');
});

test('given little, then it says so, and leaves out what is empty', () => {
  const d = desk();
  d.says('a person please');
  const text = seen(pageOf(stateOf(d)));
  for (const words of ['No danger told.', 'Power: state not known', 'Nothing told of the unit yet', 'Nothing measured'])
    expect(text).toContain(words);
  for (const heading of ['Ruled out', 'Does not fit together', 'Photos', 'Caller was told not to', 'Sensor on its'])
    expect(text).not.toContain(heading);
});

describe('the state of the unit', () => {
  test.each([
    ['on', 'STILL PLUGGED IN'],
    ['off', 'Power: plug out or breaker off (the caller says,'],
  ])('power %s', (value, words) => {
    const d = desk();
    d.answers('unit.power', value);
    d.says('a person please');
    expect(seen(pageOf(stateOf(d)))).toContain(words);
  });
});

test('photos have a line each: when, and of what', () => {
  const d = desk();
  d.says('a person please');
  const photo = (of: string | null, at: string): CaseEvent => ({ type: 'photo-kept', at, by: 'u1', ref: 'm1/a1', of });
  const offset: CaseEvent = {
    type: 'offset-known',
    at: '2026-11-25T10:00:00Z',
    by: 'u1',
    minutes: -300,
    told: false,
  };
  const state = fold(stateOf(d), [
    offset,
    photo('frost.location', '2026-11-25T15:05:00Z'),
    photo(null, '2026-11-25T15:06:00Z'),
  ]);
  const html = pageOf(state);
  const name = knowledge.findings.get('frost.location')?.name.technician ?? '?';
  expect(seen(html)).toContain(`2026-11-25 10:05 (UTC-5), ${name}`);
  expect(seen(html)).toContain('2026-11-25 10:06 (UTC-5)\n');
  expect(html).not.toContain('m1/a1');
});

test('a fact that rules out several causes is said once, and the list ends', () => {
  const state = shocked();
  const ruledOut = Array.from({ length: 20 }, (_, i) => ({
    fault: [...knowledge.faults.keys()][i % 10] ?? '',
    because: `because ${i % 8}`,
  }));
  const summary = summaryOf(knowledge, state, 'K7WX2M9P');
  const text = seen(pageOf(state, { assessment: { ...summary!.assessment, ruledOut } }));
  expect(text.match(/because 0/g)).toHaveLength(1);
  expect(text).toContain('and 6 more');
});

test('headings are in order, the table has its header cells, the language is told', () => {
  const html = pageOf(shocked());
  expect(html).toContain('<html lang="en">');
  expect([...html.matchAll(/<h(\d)/g)].map((m) => m[1]).slice(0, 2)).toEqual(['1', '2']);
  expect(html.match(/<h1/g)).toHaveLength(1);
  expect(html.match(/<th scope="col">/g)).toHaveLength(3);
  expect(html.match(/<th scope="row">/g)?.length).toBeGreaterThanOrEqual(2);
});
