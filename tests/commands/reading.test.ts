// One reading by one command: every case that must come out right, what is refused, what is drawn.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test, vi } from 'vitest';
import { runCommand } from '../../src/commands/index.js';
import { UsageProblem } from '../../src/commands/problem.js';
import { answerTo } from '../../src/commands/reading.js';
import { readingOut } from '../../src/message/outgoing.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const folder = mkdtempSync(join(tmpdir(), 'thawline-reading-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What `thawline reading ARGS` prints. */
const reading = (...args: string[]): Promise<string> => answerTo(knowledge, args, null);

/** The whole command: exit code and both outputs. */
async function command(...args: string[]): Promise<{ code: number; out: string; err: string }> {
  const [out, err] = [process.stdout, process.stderr].map((stream) =>
    vi.spyOn(stream, 'write').mockImplementation(() => true),
  );
  try {
    const code = await runCommand(['reading', ...args]);
    const said = (spy: typeof out): string => spy?.mock.calls.map(([text]) => String(text)).join('') ?? '';
    return { code, out: said(out), err: said(err) };
  } finally {
    out?.mockRestore();
    err?.mockRestore();
  }
}

/** The contract's reading of a call that goes well. */
async function json(...args: string[]): Promise<ReturnType<typeof readingOut.parse>> {
  return readingOut.parse(JSON.parse(await reading(...args, '--json')));
}

const FORCED = ['--known', 'timer.forced-defrost=compressor-stops-heater-cold'];

describe('cases that must come out right', () => {
  test.each<[string, string[], string, RegExp]>([
    ['5.4k at 73 F by its sheet', ['sensor', '5.4k', '--at', '73F', '--sheet', '5400@73F'], 'good', /on its curve/],
    [
      '5.4k at 73 F by a 5 kilohm curve',
      ['sensor', '5.4k', '--at', '73F', '--curve', 'ntc-5k-b3984'],
      'good',
      /on its curve/,
    ],
    [
      'a bimetal open when warm',
      ['bimetal', 'OL', '--at', 'room'],
      'inconclusive',
      /Chill it near 0 F .* and test again/,
    ],
    ['a thermostat open near 0 F', ['defrost-thermostat', 'continuity', 'open', '--at', '-2F'], 'bad', /failed open/],
    ['a thermostat without its temperature', ['bimetal', 'open'], 'inconclusive', /What was it at\?/],
    ['a sensor without its temperature', ['sensor', '5.4k'], 'inconclusive', /What was it at\?/],
    [
      'a sensor that had not settled',
      ['sensor', '5.4k', '--at', 'ice', '--curve', 'ntc-5k-b3984'],
      'inconclusive',
      /not settled/,
    ],
    [
      'a sensor after two minutes',
      ['sensor', '16.3k', '--at', 'ice water', '--settled', '2 min'],
      'inconclusive',
      /not settled/,
    ],
    [
      'no current without a defrost',
      ['heater', 'current', '0A'],
      'inconclusive',
      /means nothing unless defrost is called/,
    ],
    ['no current in a forced defrost', ['heater', '0 A', ...FORCED], 'bad', /./],
    ['volts at the heater alone', ['heater-circuit', '118V'], 'inconclusive', /Without the voltage leaving/],
    [
      'volts at the heater, none leaving',
      ['heater-circuit', '118V', '--with', 'defrost-output 0V', ...FORCED],
      'inconclusive',
      /./,
    ],
    ['a 120 V heater on 230 V', ['heater', '32 ohm', '--rating', '450W/230V'], 'bad', /for the other supply system/],
    [
      'the same by the measured outlet',
      ['heater', '32ohm', '--with', 'supply 231V'],
      'bad',
      /for the other supply system/,
    ],
    ['over-limit', ['heater', 'OL'], 'bad', /open/],
    ['no ohms at all', ['heater', '0 ohm'], 'bad', /short/],
    ['megohms', ['heater', '1.2M'], 'bad', /open/],
    ['the junior’s kilohm range', ['heater', '0.0284k', '--rating', '500W/120V'], 'good', /28\.4 Ω/],
    ['a low supply', ['outlet', '104V'], 'bad', /No verdicts from powered tests/],
    ['a supply that is not there', ['supply', 'voltage', '3V'], 'bad', /absent/],
    ['nothing judged on a low supply', ['heater', '0A', '--with', 'supply 104V', ...FORCED], 'inconclusive', /./],
    [
      'two readings that contradict each other',
      ['heater', 'current', '3.7A', '--with', 'heater OL'],
      'inconclusive',
      /[Cc]ontradicts another reading/,
    ],
  ])('%s', async (_, args, verdict, why) => {
    const one = await json(...args);
    expect(one.verdict).toBe(verdict);
    expect(one.why).toMatch(why);
  });

  test('of two that contradict, the cheaper is to be repeated', async () => {
    const one = (await json('heater', 'OL', '--with', 'heater current 3.7A')).why;
    const other = (await json('heater', 'current', '3.7A', '--with', 'heater OL')).why;
    expect([one, other].filter((why) => /Repeat that one first/.test(why))).toHaveLength(1);
  });
});

describe('the words of a value', () => {
  test.each<[string[], number | string]>([
    [['sensor', '5.4k', '--at', '73F'], 5400],
    [['sensor', '2k3', '--at', '73F'], 2300],
    [['sensor', '5,400', 'ohm', '--at', '73F'], 5400],
    [['heater', '12,6', 'ohm'], 12.6],
    [['heater', 'ohms', '32', 'ohm'], 32],
    [['timer-motor', '1.2M'], 1_200_000],
    [['bimetal', 'closed', '--at', '0F'], 'closed'],
    [['bimetal', 'beeps', '--at', '0F'], 'closed'],
    [['bimetal', 'no beep', '--at', '0F'], 'open'],
    [['heater', 'resistance', 'open'], 'OL'],
    [['freezer', '-18', 'C'], -18],
    [['freezer', '-40F'], -40],
    [['frost', '1/2 inch'], 0.0127],
    [['room', 'humidity', '55%'], 55],
  ])('%j', async (args, value) => {
    expect((await json(...args)).value).toBe(value);
  });

  test('the part’s temperature in degrees or in words', async () => {
    const at = async (text: string) => {
      const { atC, atAssumed } = await json('sensor', '5.4k', '--at', text);
      return [atC, atAssumed];
    };
    expect(await at('73F')).toEqual([22.78, false]);
    expect(await at('-18 C')).toEqual([-18, false]);
    expect(await at('ice')).toEqual([0, false]);
    expect(await at('room')).toEqual([21, true]);
  });

  test('leads come off a resistance', async () => {
    expect((await json('heater', '32.4ohm', '--leads', '0.3')).value).toBeCloseTo(32.1, 9);
    expect(await reading('heater', '32.4ohm', '--leads', '0.3')).toMatch(/Leads, 300 mΩ|Leads, 0\.3 Ω, taken off/);
  });
});

describe('what is printed', () => {
  test('verdict, expected range, why, and by what and how surely; no publisher', async () => {
    const out = await reading('sensor', '5.4k', '--at', '73F', '--curve', 'ntc-5k-b3984');
    expect(out.split('\n')).toEqual([
      'defrost sensor: 5.4 kΩ at 73 °F',
      'Verdict: good',
      'Expected: 5.16 kΩ to 5.89 kΩ',
      'Judged against: sensor curve (a published value)',
      expect.stringMatching(/^Why: 5\.4 kΩ at 73 °F/),
      // Vishay 29094: between 6246 ohm at 20 and 5000 ohm at 25 degC, 0.46 K there
      'By its curve 74 °F, ±0.8 F.',
    ]);
  });

  test('what a 450 W heater should read: 32.0 ohm by Ohm’s law, with its tolerance', async () => {
    const out = await reading('heater', '--rating', '450W/120V');
    expect(out).toMatch(
      /^defrost heater\nExpected: 29\.9 Ω to 36\.2 Ω\nJudged against: rating \(as you gave it\)\nWhy: /,
    );
    expect(JSON.parse(await reading('heater', '--rating', '450W/120V', '--json'))).toMatchObject({
      part: 'defrost-heater',
      quantity: 'resistance',
      against: 'rating',
      expected: { unit: 'ohm' },
    });
  });

  // 114 V over 32 ohm: 3.56 A and 406 W
  test('what a heater draws at the measured outlet', async () => {
    expect(await reading('heater', '32ohm', '--with', 'supply 114V')).toMatch(/At 114 V: 3\.56 A, 406 W\./);
  });

  test('a homeowner’s words, the other units, a family', async () => {
    const out = await reading('sensor', '5.4k', '--at', '22.8C', '--family', 'larkmoor-3-door', '--role', 'homeowner');
    expect(out).toMatch(/the temperature sensor: 5\.4 kilohms at 22\.8 °C\nVerdict: looks good/);
    expect(out).toMatch(/Judged against: the values of the unit family/);
    expect(await reading('freezer', '-18C', '--units', 'us')).toMatch(/0 °F/);
  });

  test('a mark without a unit: a verdict only where all its readings agree', async () => {
    expect((await json('bimetal', 'open', '--at', '50F', '--mark', '60-40')).verdict).toBe('inconclusive');
    expect((await json('bimetal', 'open', '--at', '0F', '--mark', '60-40')).verdict).toBe('bad');
    expect((await json('bimetal', 'closed', '--at', '77F', '--mark', 'L55-30F')).verdict).toBe('bad');
    expect((await json('bimetal', 'closed', '--at', '77F', '--rating', '60/40F')).verdict).toBe('bad');
    expect((await json('bimetal', 'closed', '--at', '77F', '--rating', '60/40C')).verdict).toBe('inconclusive');
  });
});

describe('refused, with the field’s name, and nothing on the output', () => {
  test.each<[string[], string]>([
    [['heater', 'resistance', '-5ohm'], 'reading.value'],
    [['freezer', '-500F'], 'reading.value'],
    [['sensor', '5.4k', '--at', '-300C'], 'reading.atC'],
    [['sensor', '5.4k', '--at', '70'], 'reading.atC'],
    [['freezer', 'temperature', '40V'], 'reading.unit'],
    [['heater', 'resistance', '450W'], 'reading.unit'],
    [['freezer', 'temperature', '12 degrees'], 'reading.unit'],
    [['heater', 'resistance', '32'], 'reading.unit'],
    [['heater', 'resistance', 'NaN'], 'reading.value'],
    [['heater', 'resistance', '1e300ohm'], 'reading.value'],
    [['room', 'humidity', '140%'], 'reading.value'],
    [['bimetal', '0.2', 'ohm'], 'reading.value'],
    [['heater', 'voltage', '3V'], 'reading.quantity'],
    [['crusher', '3V'], 'reading.part'],
    [['sensor', '5.4k', '--sheet', '5400'], 'reading.sheet.atC'],
    [['sensor', '5.4k', '--sheet', '5V@73F'], 'reading.sheet.unit'],
    [['sensor', '5.4k', '--settled', 'long'], 'reading.settledMinutes'],
    [['sensor', '5.4k', '--settled', '-3'], 'reading.settledMinutes'],
    [['heater', '32ohm', '--rating', '450W'], 'reading.rating'],
    [['heater', '32ohm', '--rating', '0W/120V'], 'reading.rating.power'],
    [['bimetal', 'open', '--rating', '60/40'], 'reading.rating'],
    [['heater', '32ohm', '--mark', '60-40'], 'reading.mark'],
    [['bimetal', 'open', '--mark', 'sixty'], 'reading.mark'],
    [['sensor', '5.4k', '--curve', 'ntc-1'], 'reading.curve'],
    [['sensor', '5.4k', '--family', 'nobody'], 'family'],
    [['supply', '118V', '--leads', '0.3'], 'leads'],
    [['heater', '32ohm', '--known', 'unit.power=blue'], 'known'],
    [['heater', '32ohm', '--with', 'supply -'], 'with'],
    [['heater', '32ohm', '--role', 'plumber'], 'role'],
    [['heater', '32ohm', '--picture', 'x.svg'], 'picture'],
  ])('%j', async (args, field) => {
    const refused = reading(...args);
    await expect(refused).rejects.toThrow(UsageProblem);
    await expect(refused).rejects.toThrow(new RegExp(`^${field.replaceAll('.', '\\.')}\\b`));
  });

  test('the command ends with 2 and one line on the other output', async () => {
    for (const args of [
      ['heater', '-5ohm'],
      [],
      ['heater', '--colour', 'red'],
      ['sensor', '5.4k', '--picture', 'x.gif'],
    ]) {
      const { code, out, err } = await command(...args);
      expect([code, out]).toEqual([2, '']);
      expect(err).toMatch(/^thawline: .+\n$/);
    }
    expect(await command('heater', '32ohm')).toMatchObject({
      code: 0,
      err: '',
      out: expect.stringMatching(/^defrost heater: 32 Ω\n/),
    });
  });
});

describe('pictures', () => {
  const file = (name: string): string => join(folder, name);

  test('a chart of two readings as SVG, its path told', async () => {
    const both = ['sensor', '22.1k', '--at', 'ice', '--with', 'sensor 5.4k at 73F', '--curve', 'ntc-5k-b3984'];
    const out = await reading(...both, '--picture', file('chart.svg'));
    expect(out).toContain(`Picture: ${file('chart.svg')}`);
    const svg = readFileSync(file('chart.svg'), 'utf8');
    expect(svg).toMatch(/1: 5\.4 kΩ at 73 °F: good/);
    expect(svg).toMatch(/2: 22\.1 kΩ at 32 °F: bad/);
  });

  test('the places of frost of a layout as PNG', async () => {
    await reading('frost', '--known', 'unit.layout=chest-freezer', '--picture', file('places.png'));
    expect([...readFileSync(file('places.png')).subarray(1, 4)]).toEqual([0x50, 0x4e, 0x47]);
  });

  test('a folder that is not there is refused and nothing else is said', async () => {
    await expect(reading('sensor', '5.4k', '--picture', file('no/chart.svg'))).rejects.toThrow(/cannot be written/);
  });
});
