/** Quantities as they stand in a text: a number with its unit, or a number without one. Nothing is judged. */
import type { Unit } from '../message/incoming.js';
import { normalForm } from '../message/text.js';
import { numbersIn, type NumberSpan } from './numbers.js';

type QuantityKind =
  | 'resistance'
  | 'voltage'
  | 'current'
  | 'power'
  | 'temperature'
  | 'relative-humidity'
  | 'length'
  | 'duration'
  | 'continuity'
  | 'bare';

export interface Found {
  readonly kind: QuantityKind;
  /** in `unit`; a duration in hours, a power in W; OL, closed or open where the meter shows no number */
  readonly value: number | 'OL' | 'closed' | 'open';
  readonly unit: Unit | 'deg' | 'h' | 'W' | null;
  readonly start: number;
  readonly end: number;
  /** counts only right behind a part: "closed" is said of doors too */
  readonly weak?: boolean;
}

interface UnitRule {
  readonly pattern: RegExp;
  readonly kind: QuantityKind;
  readonly unit: Found['unit'];
  readonly factor?: number;
}

const DEGREES = String.raw`(?:\u00b0|degrees?|degs?\.?|d\.?)`;
// What may follow a number; the first that matches wins. A "k" or "M" right behind it was taken as the number's own scale.
const RULES: readonly UnitRule[] = [
  { pattern: /^\s*-?(?:mega|meg)\s*-?\s*(?:ohms?|\u03a9)?(?![a-z])/, kind: 'resistance', unit: 'Mohm' },
  { pattern: /^\s*-?(?:kilo|kil|k)\s*-?\s*(?:ohms?|\u03a9|r)(?![a-z])/, kind: 'resistance', unit: 'kohm' },
  {
    pattern:
      /^\s*(?:on|in)\s+(?:the\s+|a\s+)?(?:20\s?|2\s?|200\s?)?(?:k|kilo|kil)\s*-?(?:ohms?|\u03a9)?(?:\s+(?:range|scale|setting))?(?![a-z])/,
    kind: 'resistance',
    unit: 'kohm',
  },
  {
    pattern:
      /^\s*(?:on|in)\s+(?:the\s+|a\s+)?(?:2\s?|20\s?)?(?:meg|mega|megohms?|m)\s*-?(?:ohms?|\u03a9)?\s+(?:range|scale|setting)(?![a-z])/,
    kind: 'resistance',
    unit: 'Mohm',
  },
  { pattern: /^\s*-?(?:ohms?|\u03a9|ohmz|omhs?|homs?)(?![a-z])/, kind: 'resistance', unit: 'ohm' },
  { pattern: /^\s*-?r(?![a-z])/, kind: 'resistance', unit: 'ohm' },
  { pattern: /^\s*-?(?:millivolts?|mv)(?![a-z])/, kind: 'voltage', unit: 'mV' },
  { pattern: /^\s*-?(?:volts?|vac|vdc|v)(?![a-z])/, kind: 'voltage', unit: 'V' },
  { pattern: /^\s*-?(?:milliamps?|ma)(?![a-z])/, kind: 'current', unit: 'mA' },
  { pattern: /^\s*-?(?:amps?|amperes?|a)(?=$|[\s,.;!?)])/, kind: 'current', unit: 'A' },
  { pattern: /^\s*-?(?:watts?|w)(?![a-z]|\/(?!\d))/, kind: 'power', unit: 'W' },
  { pattern: /^\s*-?(?:%|percent|per cent|pct)(?![a-z])/, kind: 'relative-humidity', unit: '%' },
  {
    pattern: new RegExp(
      String.raw`^\s*-?${DEGREES}?\s*-?(?:celsius|celcius|celsuis|centigrade|centigrate|c)(?![a-z0-9'/]|\.[a-z])`,
    ),
    kind: 'temperature',
    unit: 'degC',
  },
  {
    pattern: new RegExp(
      String.raw`^\s*-?${DEGREES}?\s*-?(?:fahrenheit|farenheit|fahrenheight|farenheight|fahrenhite|farhenheit|f)(?![a-z0-9'/]|-[a-z])`,
    ),
    kind: 'temperature',
    unit: 'degF',
  },
  { pattern: /^\s*(?:kelvins?)(?![a-z])/, kind: 'temperature', unit: 'K' },
  { pattern: /^\s*-?(?:\u00b0|degrees?|degs?\.?)(?![a-z])(?!\s*angle)/, kind: 'temperature', unit: 'deg' },
  { pattern: /^\s*-?(?:millimet(?:er|re)s?|mils?|mm)(?![a-z0-9])/, kind: 'length', unit: 'mm' },
  { pattern: /^\s*-?(?:decimet(?:er|re)s?|dm)(?![a-z0-9])/, kind: 'length', unit: 'cm', factor: 10 },
  { pattern: /^\s*-?(?:centimet(?:er|re)s?|cms?)(?![a-z0-9])/, kind: 'length', unit: 'cm' },
  {
    pattern: /^\s*-?(?:inch(?:es)?|ins?\.?(?=\s+(?:of|thick|deep|on|at)\b)|in(?=[.,;!?)]|$)|"|'')/,
    kind: 'length',
    unit: 'in',
  },
  { pattern: /^\s*-?(?:foot|feet|ft)(?![a-z])/, kind: 'length', unit: 'in', factor: 12 },
  { pattern: /^\s*-?(?:met(?:er|re)s?|m)(?![a-z0-9])/, kind: 'length', unit: 'm' },
  { pattern: /^\s*-?(?:minutes?|mins?|min)(?![a-z])/, kind: 'duration', unit: 'h', factor: 1 / 60 },
  { pattern: /^\s*-?(?:hours?|hrs?|hr|h)(?![a-z])/, kind: 'duration', unit: 'h' },
  { pattern: /^\s*-?(?:days?|d)(?![a-z])/, kind: 'duration', unit: 'h', factor: 24 },
  { pattern: /^\s*-?(?:weeks?|wks?|wk)(?![a-z])/, kind: 'duration', unit: 'h', factor: 168 },
  { pattern: /^\s*-?(?:months?|mths?)(?![a-z])/, kind: 'duration', unit: 'h', factor: 730 },
];

const BELOW =
  /^\s*(?:degrees?\s*)?(?:\u00b0\s*)?(?:c|f|celsius|fahrenheit)?\s*(below|above)(?:\s+(?:zero|freezing|0))?(?:,?\s*(?:c|f|celsius|fahrenheit)\b)?/;
/** "humidity 77" */
const HUMIDITY = /\b(?:humidity|rh|hygrometer)(?:\s+(?:is|at|of|reads?|says?|around|about|shows?))*[\s:=]*$/;
const NOT_A_QUANTITY = /^\s*(?:st|nd|rd|th|x\b|times|years?|yrs?|yo\b|people|doors?|weeks? old|:\d)/;
/** "on the 200 ohm range": where the meter stood, not what it showed */
const A_RANGE = /^\s*-?(?:k|m)?\s*-?(?:ohms?|\u03a9)?\s+(?:range|scale|setting)\b/;
const A_RATE = /^\s*(?:per\b|\/\s*[a-z])/;
const AN_ANGLE = /\b(?:rotat\w*|turn(?:ed|s|ing)?|tilt\w*|angle)\b[^.;]{0,20}$/;
/** no thermometer and no room of this trade shows more, in C or F */
const HOTTEST = 200;

/**
 * Every quantity of a text, in order; numbers without a unit come out as `bare`.
 * @param ohms a resistance is expected: a lone "m" is mega, not metre
 */
export function quantitiesIn(text: string, ohms = false): Found[] {
  const normal = normalForm(text);
  const numbers = numbersIn(normal);
  const found: Found[] = [];
  numbers.forEach((n, i) => {
    const quantity = withUnit(text, normal, n, numbers[i + 1], ohms);
    if (quantity && !found.some((f) => f.start < quantity.end && quantity.start < f.end)) found.push(quantity);
  });
  for (const m of normal.matchAll(ONE_AND_A_HALF)) {
    const unit = RULES.find((r) => r.kind === 'length' && r.pattern.test(` ${m[1] ?? ''} of`));
    if (unit && !found.some((f) => f.start <= m.index && m.index < f.end && f.kind !== 'bare')) {
      for (let i = found.length - 1; i >= 0; i -= 1)
        if ((found[i]?.start ?? -1) >= m.index && (found[i]?.end ?? 0) <= m.index + m[0].length) found.splice(i, 1);
      const value = (m[2] === 'half' ? 1.5 : m[2] === 'quarter' ? 1.25 : 1) * (unit.factor ?? 1);
      found.push({ kind: 'length', value, unit: unit.unit, start: m.index, end: m.index + m[0].length });
    }
  }
  return feetAndInches(
    normal,
    found.sort((a, b) => a.start - b.start),
  );
}
/** "an inch", "an inch and a half", "inch-thick" */
const ONE_AND_A_HALF =
  /(?:\ban?\s+|\b(?=inch[ -]thick))(inch|foot|centimet(?:er|re)|met(?:er|re))\b(?:\s+and\s+a\s+(half|quarter))?/g;

function withUnit(
  text: string,
  normal: string,
  n: NumberSpan,
  next: NumberSpan | undefined,
  ohms: boolean,
): Found | null {
  const whole = normal.slice(n.end, next && next.start > n.end ? Math.min(next.start + 24, n.end + 40) : n.end + 40);
  const ish = /^\s*-?ish\b/.exec(whole)?.[0].length ?? 0;
  const rest = whole.slice(ish);
  const span = (length: number): { start: number; end: number } => ({ start: n.start, end: n.end + ish + length });
  if (n.scale !== 1) {
    const unit = /^\s*-?(?:ohms?|\u03a9|r)(?![a-z])/.exec(rest);
    const lone = /([mM])$/.exec(text.slice(n.start, n.end));
    if (n.scale === 1e6 && !unit && lone && !ohms) {
      if (A_RATE.test(rest)) return null;
      if (lone[1] === 'm') return { kind: 'length', value: Math.abs(n.value), unit: 'm', ...span(0) };
    }
    return {
      kind: 'resistance',
      value: n.value,
      unit: n.scale === 1e3 ? 'kohm' : 'Mohm',
      ...span(unit?.[0].length ?? 0),
    };
  }
  const below = BELOW.exec(rest);
  if (below && n.value > 0 && (below[1] === 'below' || /\b(?:zero|0)\b/.test(below[0]))) {
    const celsius = /\bc(?:elsius)?\b/.test(below[0]);
    const fahrenheit = /\bf(?:ahrenheit)?\b/.test(below[0]);
    return {
      kind: 'temperature',
      value: below[1] === 'below' ? -n.value : n.value,
      unit: celsius ? 'degC' : fahrenheit ? 'degF' : 'deg',
      ...span(below[0].length),
    };
  }
  if (A_RANGE.test(rest)) return null;
  for (const rule of RULES) {
    const m = rule.pattern.exec(rest);
    if (!m) continue;
    // "3 a day" is no current, "3.7 A" is one
    const lone = rule.unit === 'A' && /^\s+a$/.test(m[0]);
    if (lone && text[n.end + ish + m[0].length - 1] !== 'A') continue;
    if (rule.kind === 'temperature' && !isATemperature(normal, n, m[0])) return null;
    if (rule.kind === 'length' && A_RATE.test(rest.slice(m[0].length))) return null;
    const value = n.value * (rule.factor ?? 1);
    return {
      kind: rule.kind,
      value: rule.kind === 'length' ? Math.abs(value) : value,
      unit: rule.unit,
      ...span(m[0].length),
    };
  }
  const article = /^\s+(?:of\s+)?(?:a|an)\s+(inch|cm|centimet(?:er|re)|hour|day|week|month|foot)\b/.exec(rest);
  if (article) {
    const inner = RULES.find((r) => r.pattern.test(` ${article[1] ?? ''}`));
    if (inner)
      return { kind: inner.kind, value: n.value * (inner.factor ?? 1), unit: inner.unit, ...span(article[0].length) };
  }
  if (NOT_A_QUANTITY.test(rest)) return null;
  if (HUMIDITY.test(normal.slice(0, n.start)))
    return { kind: 'relative-humidity', value: n.value, unit: '%', ...span(0) };
  return { kind: 'bare', value: n.value, unit: null, ...span(0) };
}

/** "13F", "SCP-173C", "turned 90 degrees" and "777F" are none: too hot, part of a name, or an angle. */
function isATemperature(normal: string, n: NumberSpan, unit: string): boolean {
  const before = normal.slice(Math.max(0, n.start - 30), n.start);
  if (/[a-z]-?$/.test(before) && !/\s$/.test(before)) return false;
  const plain = /^\s*-?[cf]$/.test(unit);
  if (plain && Math.abs(n.value) >= HOTTEST) return false;
  return plain || !/(?:\u00b0|deg)/.test(unit) || /[cf]/.test(unit.replace(/deg\w*/, '')) || !AN_ANGLE.test(before);
}

/** "5 feet 2 inches" is one length. */
function feetAndInches(normal: string, found: readonly Found[]): Found[] {
  const out: Found[] = [];
  for (const f of found) {
    const feet = out.at(-1);
    const isFeet = feet?.kind === 'length' && /\b(?:foot|feet|ft)$/.test(normal.slice(feet.start, feet.end));
    const gap = feet ? normal.slice(feet.end, f.start) : '';
    const inches =
      f.unit === 'in' && f.kind === 'length'
        ? { value: f.value, end: f.end }
        : f.kind === 'bare' && /^\s*in(?![a-z])/.test(normal.slice(f.end))
          ? { value: f.value, end: f.end + (/^\s*in/.exec(normal.slice(f.end))?.[0].length ?? 0) }
          : null;
    if (
      isFeet &&
      inches &&
      typeof inches.value === 'number' &&
      typeof feet.value === 'number' &&
      /^\s*(?:and\s+)?$/.test(gap)
    )
      out[out.length - 1] = { ...feet, value: feet.value + inches.value, end: inches.end };
    else out.push(f);
  }
  return out;
}
