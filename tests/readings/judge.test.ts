import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Measured } from '../../src/case/state.js';
import { UNITS, type ReadingIn } from '../../src/message/incoming.js';
import { escalation } from '../../src/message/outgoing.js';
import { unitsOf } from '../../src/physics/units.js';
import { accept } from '../../src/readings/accept.js';
import { judge, judgeAll, toOut } from '../../src/readings/judge.js';
import { mistakesOfReadings } from '../../src/readings/needed.js';
import { caseOf, knowledge, measured, NOW, ranked } from './a-case.js';

const readingOut = escalation.shape.assessment.shape.readings.element;

test('the knowledge folder has what every judge needs', () => {
  expect(mistakesOfReadings(knowledge)).toEqual([]);
});

test('a missing number, a wrong unit, a missing word, an unknown state and an unknown judge are told, all at once', () => {
  const heater = knowledge.readings.get('defrost-heater.resistance');
  const supply = knowledge.readings.get('supply.voltage');
  const room = knowledge.readings.get('room.temperature');
  const frost = knowledge.readings.get('frost.thickness');
  if (!heater || !supply || !room || !frost) throw new Error('the knowledge folder lacks a reading');
  const { leads: _, ...numbers } = heater.numbers;
  const { expect: __, ...sentences } = supply.why;
  const broken = {
    ...knowledge,
    readings: new Map([
      [
        heater.id,
        {
          ...heater,
          numbers: {
            ...numbers,
            'short-below': { value: 5, unit: 'V', source: 'from-memory' as const },
            shoe: { value: 1, unit: 'm', source: 'from-memory' as const },
          },
        },
      ],
      [supply.id, { ...supply, why: sentences }],
      [room.id, { ...room, judge: 'nobody' }],
      ['defrost-heater.continuity', { ...heater, id: 'defrost-heater.continuity', judge: 'heater-continuity' }],
    ]),
  };
  const problems = mistakesOfReadings(broken).map((m) => `${m.problem} ${m.mend}`);
  expect(problems).toHaveLength(7);
  for (const part of [
    'defrost-output.voltage',
    '"leads" is missing',
    '"short-below" is in V',
    'number "shoe"',
    'words for "expect"',
    'no judge is called "nobody"',
    'states',
  ])
    expect(problems.join('\n')).toContain(part);
});

test('an accepted measurement goes out as the contract has it', () => {
  const readings = [
    measured('defrost-sensor.resistance', { value: 5.4, unit: 'kohm', atC: 22.8, curve: 'ntc-5k-b3984' }),
  ];
  const [one] = judgeAll(knowledge, caseOf({ readings }), 'homeowner');
  if (!one) throw new Error('nothing was judged');
  const out = toOut(one);
  expect(readingOut.parse(out)).toEqual(out);
  expect(out).toMatchObject({
    part: 'defrost-sensor',
    quantity: 'resistance',
    value: 5400,
    unit: 'ohm',
    atC: 22.8,
    atAssumed: false,
    verdict: 'good',
    against: 'curve',
  });
});

test('all readings in the order of the case; one that the folder no longer has is left out', () => {
  const one = measured('freezer.temperature', { value: -18, unit: 'degC' });
  const gone: Measured = { ...one, part: 'ice-crusher' };
  const other = measured('supply.voltage', { value: 120, unit: 'V' });
  expect(judgeAll(knowledge, caseOf({ readings: [one, gone, other] }), 'technician').map((j) => j.step)).toEqual([
    'freezer.temperature',
    'supply.voltage',
  ]);
  expect(() => judge(knowledge, caseOf(), gone, [], 'technician')).toThrow(/ice-crusher/);
});

test('nothing measured, nothing moved', () => {
  expect(ranked({})('defrost-heater-open')).toBeGreaterThan(0);
});

const steps = [...knowledge.readings.values()];
const number = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const maybe = <T>(arbitrary: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> => fc.option(arbitrary, { nil: undefined });
const celsius = fc.oneof(number(-60, 100), number(-273.15, 2000), fc.constantFrom(-18, 0, 22.8));
const size = fc.oneof(number(0, 150), number(-1e3, 1e5), fc.double(), fc.constantFrom(0, 1e-9, 108, 120, 230));
const ratings: Readonly<Record<string, fc.Arbitrary<ReadingIn['rating']>>> = {
  heater: fc.record({ power: number(0.5, 12_000), voltage: number(4, 1100) }),
  thermostat: fc.record({ opensC: number(-70, 310), differentialC: number(0.05, 210) }),
  voltage: fc.record({ voltage: number(4, 1100) }),
};

/** A reading that mostly fits its part; its sizes are anything. */
function statedFor(step: (typeof steps)[number]): fc.Arbitrary<ReadingIn> {
  const units = unitsOf(step.quantity);
  const rating = Object.entries(ratings).find(([kind]) => step.judge.includes(kind))?.[1];
  const word = step.quantity === 'continuity' ? fc.constantFrom('OL', 'closed', 'open') : fc.constant('OL');
  const sheet = fc.record({ value: number(1e-7, 1e6), unit: fc.constantFrom(...units, 'V' as const), atC: celsius });
  const electric = ['resistance', 'current', 'voltage'].includes(step.quantity);
  return fc
    .record({
      value:
        step.quantity === 'continuity'
          ? word
          : fc.oneof({ weight: 5, arbitrary: size }, { weight: 1, arbitrary: word }),
      unit: units.length > 0 ? fc.constantFrom(...units) : maybe(fc.constantFrom(...UNITS)),
      atC: maybe(celsius),
      settledMinutes: maybe(number(0, 20)),
      sheet: electric ? maybe(sheet) : fc.constant(undefined),
      rating: rating ? maybe(rating) : fc.constant(undefined),
      curve:
        step.judge === 'sensor-resistance'
          ? maybe(fc.constantFrom(...knowledge.curves.keys()))
          : fc.constant(undefined),
    })
    .map((rest) => {
      const given = Object.entries(rest).filter(([, v]) => v !== undefined);
      return { part: step.part, quantity: step.quantity, ...Object.fromEntries(given) } as ReadingIn;
    });
}

const stated = fc.constantFrom(...steps).chain(statedFor);

const found = fc
  .dictionary(
    fc.constantFrom('unit.thawed-recently', 'unit.defrost-control', 'timer.forced-defrost', 'compressor.running'),
    fc.string(),
    { maxKeys: 3 },
  )
  .chain((d) =>
    fc.record(
      Object.fromEntries(
        Object.keys(d).map((id) => [id, fc.constantFrom(...(knowledge.findings.get(id)?.values ?? ['x']))]),
      ),
    ),
  );

test('whatever is accepted gives verdicts, finite weights and finished sentences, and never throws', () => {
  let accepted = 0;
  fc.assert(
    fc.property(
      fc.array(stated, { minLength: 1, maxLength: 6 }),
      found,
      fc.constantFrom('northpine-2-door', 'larkmoor-3-door', undefined),
      (list, facts, family) => {
        const readings = list.flatMap((one): Measured[] => {
          const result = accept(knowledge, one);
          return result.ok ? [{ ...result.measurement, at: NOW, by: 'u1' }] : [];
        });
        accepted += readings.length;
        const state = caseOf({ readings, found: facts, ...(family ? { family } : {}) });
        for (const words of ['homeowner', 'technician'] as const)
          for (const one of judgeAll(knowledge, state, words)) {
            const reading = knowledge.readings.get(one.step);
            expect(one.why).not.toMatch(/[{}]|undefined|NaN|Infinity/);
            expect(readingOut.safeParse(toOut(one)).success).toBe(true);
            if (one.weights === null) continue;
            expect(one.weights).toHaveLength(reading?.values.length ?? -1);
            expect(Math.max(...one.weights)).toBe(1);
            for (const weight of one.weights) expect(weight >= 0 && Number.isFinite(weight)).toBe(true);
          }
        expect(ranked({ readings, found: facts, ...(family ? { family } : {}) })('something-else')).toBeGreaterThan(0);
      },
    ),
    { numRuns: 400 },
  );
  expect(accepted).toBeGreaterThan(300);
});

test('good is exactly where the value lies in what was expected', () => {
  const numeric = steps.filter((s) => s.quantity !== 'continuity');
  fc.assert(
    fc.property(fc.constantFrom(...numeric), fc.double({ min: -50, max: 300, noNaN: true }), (step, value) => {
      const unit = {
        resistance: 'ohm',
        current: 'A',
        voltage: 'V',
        temperature: 'degC',
        'relative-humidity': '%',
        thickness: 'mm',
      } as const;
      if (step.quantity === 'continuity') return;
      const result = accept(knowledge, {
        part: step.part,
        quantity: step.quantity,
        value,
        unit: unit[step.quantity],
        atC: 22,
      });
      if (!result.ok) return;
      const one = judge(knowledge, caseOf(), { ...result.measurement, at: NOW, by: 'u1' }, [], 'technician');
      if (one.weights === null || one.expected === null || !('low' in one.expected)) return;
      const inside =
        (one.measured.value as number) >= one.expected.low - 1e-9 &&
        (one.measured.value as number) <= one.expected.high + 1e-9;
      expect(one.verdict === 'good').toBe(inside);
    }),
    { numRuns: 500 },
  );
});
