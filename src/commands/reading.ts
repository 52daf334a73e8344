/** `thawline reading`: interprets one reading, or says what to expect of it. */
import { parseArgs } from 'node:util';
import type { Measurement } from '../case/events.js';
import { newCase, type CaseState, type Measured } from '../case/state.js';
import { wordsFor, type Knowledge, type Role } from '../knowledge/facts.js';
import { readingOut } from '../message/outgoing.js';
import type { ReadingIn } from '../message/incoming.js';
import { withoutLeadsOhm } from '../physics/resistor.js';
import { unitsOf } from '../physics/units.js';
import type { Picture } from '../pictures/picture.js';
import { accept } from '../readings/accept.js';
import { expectation } from '../readings/expect.js';
import { judge, judgeAll, toOut } from '../readings/judge.js';
import type { Reader } from '../reply/ice-amount.js';
import { frostPicture, sensorPicture } from '../reply/pictures.js';
import { expectedLines, judgedLines, type Told } from '../reply/reading-report.js';
import { say } from '../reply/say.js';
import { valueText } from '../readings/words.js';
import { loadFolder } from './knowledge-folder.js';
import { isPictureName, writePicture } from './picture-file.js';
import { UsageProblem } from './problem.js';
import { readSettings } from './settings.js';
import {
  leadsOf,
  markOf,
  minutesOf,
  ratingOf,
  refuse,
  sheetOf,
  temperatureOf,
  typed,
  valueOf,
  type Typed,
} from './stated.js';

export const help = `thawline reading PART [QUANTITY] [VALUE] [options]
  One reading: good, bad or no answer, what was expected, why, and by what. Without a value: what to expect.
    thawline reading defrost-sensor resistance 5.4k --at 73F --sheet 5400@73F
    thawline reading heater --rating 450W/120V
    thawline reading bimetal OL --at room
  PART and QUANTITY   as in the list of "thawline knowledge", or the trade's word: heater, bimetal, sensor, outlet
  VALUE               5.4k, 2k3, "12,6 ohm", 118V, -4F, OL, closed, open
  --at DEGREES        the part's own temperature: 73F, -18C, room, ice
  --settled MIN       how long it has been at that temperature
  --sheet VALUE@DEG   what the tech sheet says: 5400@73F
  --rating TEXT       heater 450W/120V, outlet 230V, thermostat 60/40F (opens at 60 F, closes 40 F lower)
  --mark TEXT         two numbers stamped on a thermostat as they stand there: 60-40, L55-30F
  --curve ID          a sensor curve of the knowledge folder
  --family ID         a unit family of the knowledge folder
  --leads OHMS        what the meter's leads read held together: taken off
  --with "READING"    another reading of the same unit: "supply voltage 114V"; may stand several times
  --known F=VALUE     a finding of the same unit: timer.forced-defrost=nothing-changes; may stand several times
  --role ROLE         homeowner or technician (technician)
  --units us|si       else as the temperatures are typed
  --picture FILE      a chart for a sensor, the numbered places for frost; .svg or .png
  --json              the reading as the JSON lines give it`;

const text = { type: 'string' } as const;
const several = { type: 'string', multiple: true } as const;
const options = {
  at: text,
  settled: text,
  sheet: text,
  rating: text,
  mark: text,
  curve: text,
  family: text,
  leads: text,
  with: several,
  known: several,
  role: text,
  units: text,
  picture: text,
  json: { type: 'boolean' },
} as const;
type Values = ReturnType<typeof parseArgs<{ options: typeof options; allowPositionals: true }>>['values'];

export async function run(args: string[]): Promise<number> {
  const settings = readSettings();
  process.stdout.write(`${await answerTo(loadFolder(settings.overlay), args, settings.units)}\n`);
  return 0;
}

/**
 * What is printed, after a picture that was asked for is written.
 * @param usual the reader's units where the arguments do not tell
 * @throws UsageProblem that names the field which is wrong
 */
export async function answerTo(
  knowledge: Knowledge,
  args: readonly string[],
  usual: 'us' | 'si' | null,
): Promise<string> {
  const { values, positionals } = parseArgs({ args: args.map(plainMinus), options, allowPositionals: true });
  if (positionals.length === 0) throw new UsageProblem('name a part, such as: thawline reading heater 32 ohm');
  const role = oneOf('role', values.role, ['homeowner', 'technician'] as const) ?? 'technician';
  const units = oneOf('units', values.units, ['us', 'si'] as const) ?? usual;
  const file = values.picture;
  if (file !== undefined && !isPictureName(file))
    return refuse('picture', `"${file}" is no picture's name; end it with .svg or .png`);
  const answer = readingAnswer(knowledge, positionals, values, role, units);
  const lines = values.json ? [JSON.stringify(answer.json, null, 2)] : [...answer.lines];
  if (file !== undefined) {
    await writePicture(
      file,
      answer.picture ?? refuse('picture', 'there is one for a sensor with its value, and for frost'),
    );
    if (!values.json) lines.push(say(knowledge, wordsFor(role), 'report.picture', { path: file }));
  }
  return lines.join('\n');
}

/** The same for a channel that shows a picture by itself. */
export function readingTold(
  knowledge: Knowledge,
  args: readonly string[],
  role: Role,
  usual: 'us' | 'si' | null,
): { readonly text: string; readonly picture: Picture | null } {
  const { values, positionals } = parseArgs({ args: args.map(plainMinus), options, allowPositionals: true });
  const { lines, picture } = readingAnswer(knowledge, positionals, values, role, usual);
  return { text: lines.join('\n'), picture };
}

/** A minus before a digit is a value, no option: "-18C". */
const plainMinus = (arg: string): string => (/^-[\d.,]/.test(arg) ? `\u2212${arg.slice(1)}` : arg);

function oneOf<const T extends string>(name: string, given: string | undefined, allowed: readonly T[]): T | null {
  if (given === undefined) return null;
  return allowed.find((each) => each === given) ?? refuse(name, `"${given}" is not one of ${allowed.join(', ')}`);
}

interface ReadingAnswer {
  readonly lines: readonly string[];
  readonly json: unknown;
  readonly picture: Picture | null;
}

function readingAnswer(
  knowledge: Knowledge,
  words: readonly string[],
  values: Values,
  role: Role,
  units: 'us' | 'si' | null,
): ReadingAnswer {
  const one = typed(knowledge, words);
  const at = values.at === undefined ? null : temperatureOf(values.at, 'reading.atC', roomC(knowledge));
  const inSi = /\d\s*°?\s*c\b/i.test([values.at, values.sheet, values.rating, one.value].join(' '));
  const state: CaseState = {
    ...newCase(new Date().toISOString(), role),
    units: units ?? (inSi ? 'si' : 'us'),
    family: familyOf(knowledge, values.family),
    facts: factsOf(knowledge, values.known ?? []),
  };
  const others = (values.with ?? []).map((said): Measured => measuredIn(knowledge, state, said));
  const unit = { ...state, readings: others };
  const stated = statedOf(knowledge, one, values, at?.atC ?? null, roomC(knowledge));
  const accepted = accept(
    knowledge,
    stated,
    at?.atAssumed ?? false,
    values.mark === undefined ? null : markOf(values.mark),
  );
  if (!accepted.ok) return refuse(accepted.field, accepted.message);
  const given: Measured = { ...leadsOff(accepted.measurement, values.leads), at: state.lastAt, by: '' };
  const reader: Reader = { knowledge, words: wordsFor(role), units: state.units ?? 'us' };
  const told: Told = { reading: one.step, given, state: unit };
  const places = one.step.part === 'frost' ? frostPicture(knowledge, unit, reader.words) : null;
  if (one.value === null) {
    const { part, quantity } = one.step;
    const what = expectation(knowledge, part, quantity, given, reader.words, unit);
    return { lines: expectedLines(reader, told, what), json: { part, quantity, ...what }, picture: places };
  }
  const judged = judge(knowledge, unit, given, others, reader.words);
  const all = judgeAll(knowledge, { ...unit, readings: [...others, given] }, reader.words);
  return {
    lines: [...judgedLines(reader, told, judged), ...leadsLines(reader, values.leads)],
    json: readingOut.parse(toOut(judged)),
    picture: places ?? (one.step.judge === SENSOR ? sensorPicture(reader, unit, all) : null),
  };
}

const SENSOR = 'sensor-resistance';

const roomC = (knowledge: Knowledge): number => knowledge.places.usual.room.value;

/** What a front end would state. A value that nobody typed stands in only until the fields are checked. */
function statedOf(
  knowledge: Knowledge,
  { step, value }: Typed,
  values: Values,
  atC: number | null,
  room: number,
): ReadingIn {
  const { part, quantity } = step;
  const [unit] = unitsOf(quantity);
  const stands = unit ? { value: 1, unit } : ({ value: 'closed' } as const);
  return {
    part,
    quantity,
    ...(value === null ? stands : valueOf(value, quantity, 'reading', undefined, knowledge)),
    ...(atC === null ? {} : { atC }),
    ...(values.settled === undefined ? {} : { settledMinutes: minutesOf(values.settled) }),
    ...(values.sheet === undefined ? {} : { sheet: sheetOf(values.sheet, step, room) }),
    ...(values.rating === undefined ? {} : { rating: ratingOf(values.rating, step) }),
    ...(values.curve === undefined ? {} : { curve: values.curve }),
  };
}

/** Another reading of the same unit: "defrost-heater current 3.7A", "defrost-sensor 16.3k at 0C". */
function measuredIn(knowledge: Knowledge, state: CaseState, said: string): Measured {
  try {
    const [reading = '', degrees] = said.split(/\s*@\s*|\s+at\s+/i);
    const one = typed(knowledge, reading.trim().split(/\s+/));
    if (one.value === null) return refuse('reading.value', 'it has none');
    const at = degrees === undefined ? null : temperatureOf(degrees, 'reading.atC', roomC(knowledge));
    const accepted = accept(
      knowledge,
      statedOf(knowledge, one, {}, at?.atC ?? null, roomC(knowledge)),
      at?.atAssumed ?? false,
    );
    if (!accepted.ok) return refuse(accepted.field, accepted.message);
    return { ...accepted.measurement, at: state.lastAt, by: '' };
  } catch (error) {
    if (error instanceof UsageProblem) throw new UsageProblem(`with "${said}": ${error.message}`);
    throw error;
  }
}

function familyOf(knowledge: Knowledge, id: string | undefined): string | null {
  if (id === undefined || knowledge.units.has(id)) return id ?? null;
  return refuse('family', `no unit family is called "${id}"; known: ${[...knowledge.units.keys()].join(', ')}`);
}

/** "timer.forced-defrost=nothing-changes": findings as a case would know them. */
function factsOf(knowledge: Knowledge, said: readonly string[]): CaseState['facts'] {
  const at = new Date().toISOString();
  return Object.fromEntries(
    said.map((each) => {
      const [id = '', value = ''] = each.split('=');
      const finding = knowledge.findings.get(id) ?? refuse('known', `no finding is called "${id}"`);
      if (!finding.values.includes(value))
        return refuse('known', `"${value}" is not one of ${finding.values.join(', ')}`);
      const fact = { values: [value], denied: [], notSure: false, confidence: 1, from: 'answer', at, by: '' } as const;
      return [id, fact];
    }),
  );
}

function leadsOff(measurement: Measurement, leads: string | undefined): Measurement {
  if (leads === undefined) return measurement;
  const { quantity, value } = measurement;
  if (quantity !== 'resistance') return refuse('leads', `they matter for a resistance, not for ${quantity}`);
  return typeof value === 'number' ? { ...measurement, value: withoutLeadsOhm(value, leadsOf(leads)) } : measurement;
}

function leadsLines(reader: Reader, leads: string | undefined): string[] {
  if (leads === undefined) return [];
  const shown = valueText(reader, leadsOf(leads), 'resistance');
  return [say(reader.knowledge, reader.words, 'report.leads', { leads: shown })];
}
