/** Quantities as they stand in a text: a number with its unit, or what a meter shows without one. Nothing is judged. */
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
  /** "closed" or "open" alone: a reading only right behind a part that has continuity */
  readonly weak?: true;
}

interface UnitRule {
  readonly pattern: RegExp;
  readonly kind: QuantityKind;
  readonly unit: Found['unit'];
  readonly factor?: number;
}

// What may follow a number; the first that matches wins. A bare "m" or "k" was taken as the number's own scale.
const RULES: readonly UnitRule[] = [
  { pattern: /^\s*-?(?:mega|meg)\s*-?\s*(?:ohms?|\u03a9)?(?![a-z])/, kind: 'resistance', unit: 'Mohm' },
  { pattern: /^\s*-?(?:kilo|k)\s*-?\s*(?:ohms?|\u03a9|r)(?![a-z])/, kind: 'resistance', unit: 'kohm' },
  {
    pattern:
      /^\s*(?:on|in)\s+(?:the\s+)?(?:20\s?|2\s?|200\s?)?(?:k|kilo)\s*-?(?:ohms?|\u03a9)?\s+(?:range|scale|setting)/,
    kind: 'resistance',
    unit: 'kohm',
  },
  { pattern: /^\s*-?(?:ohms?|\u03a9|ohmz|omhs?)(?![a-z])/, kind: 'resistance', unit: 'ohm' },
  { pattern: /^\s*-?r(?![a-z])/, kind: 'resistance', unit: 'ohm' },
  { pattern: /^\s*-?(?:millivolts?|mv)(?![a-z])/, kind: 'voltage', unit: 'mV' },
  { pattern: /^\s*-?(?:volts?|vac|vdc|v)(?![a-z])/, kind: 'voltage', unit: 'V' },
  { pattern: /^\s*-?(?:milliamps?|ma)(?![a-z])/, kind: 'current', unit: 'mA' },
  { pattern: /^\s*-?(?:amps?|amperes?|a)(?=$|[\s,.;!?)])/, kind: 'current', unit: 'A' },
  { pattern: /^\s*-?(?:watts?|w)(?![a-z/])/, kind: 'power', unit: 'W' },
  { pattern: /^\s*-?(?:%|percent|per cent|pct)(?![a-z])/, kind: 'relative-humidity', unit: '%' },
  {
    pattern:
      /^\s*-?(?:\u00b0|degrees?|degs?\.?|d\.?)?\s*-?(?:celsius|celcius|celsuis|centigrade|centigrate|c)(?![a-z0-9'])/,
    kind: 'temperature',
    unit: 'degC',
  },
  {
    pattern:
      /^\s*-?(?:\u00b0|degrees?|degs?\.?|d\.?)?\s*-?(?:fahrenheit|farenheit|fahrenheight|farenheight|fahrenhite|f)(?![a-z0-9'])/,
    kind: 'temperature',
    unit: 'degF',
  },
  { pattern: /^\s*(?:kelvins?)(?![a-z])/, kind: 'temperature', unit: 'K' },
  { pattern: /^\s*-?(?:\u00b0|degrees?|degs?\.?)(?![a-z])/, kind: 'temperature', unit: 'deg' },
  { pattern: /^\s*-?(?:millimet(?:er|re)s?|mils?|mm)(?![a-z])/, kind: 'length', unit: 'mm' },
  { pattern: /^\s*-?(?:decimet(?:er|re)s?|dm)(?![a-z])/, kind: 'length', unit: 'cm', factor: 10 },
  { pattern: /^\s*-?(?:centimet(?:er|re)s?|cms?)(?![a-z])/, kind: 'length', unit: 'cm' },
  {
    pattern: /^\s*-?(?:inch(?:es)?|ins?\.?(?=\s+(?:of|thick|deep|on|at)\b)|in(?=[.,;!?)]|$)|"|'')/,
    kind: 'length',
    unit: 'in',
  },
  { pattern: /^\s*-?(?:foot|feet|ft)(?![a-z])/, kind: 'length', unit: 'in', factor: 12 },
  { pattern: /^\s*-?(?:met(?:er|re)s?|m)(?![a-z])/, kind: 'length', unit: 'm' },
  { pattern: /^\s*-?(?:minutes?|mins?|min)(?![a-z])/, kind: 'duration', unit: 'h', factor: 1 / 60 },
  { pattern: /^\s*-?(?:hours?|hrs?|hr|h)(?![a-z])/, kind: 'duration', unit: 'h' },
  { pattern: /^\s*-?(?:days?|d)(?![a-z])/, kind: 'duration', unit: 'h', factor: 24 },
  { pattern: /^\s*-?(?:weeks?|wks?|wk)(?![a-z])/, kind: 'duration', unit: 'h', factor: 168 },
  { pattern: /^\s*-?(?:months?|mths?)(?![a-z])/, kind: 'duration', unit: 'h', factor: 730 },
];

const SPECIAL: readonly { readonly pattern: RegExp; readonly kind: QuantityKind; readonly value: Found['value'] }[] = [
  {
    pattern:
      /\b(?:over[- ]?(?:limit|load|range)|o\.?l\.?|0\.?l(?![a-z])|infinit(?:e|y)|open line|out of range)(?![a-z])/g,
    kind: 'resistance',
    value: 'OL',
  },
  {
    pattern:
      /\b(?:a |the )?(?:lone |single |just a )?"?1"?\s*(?:on|at|to)\s+(?:the )?(?:far )?left(?: (?:side|digit|hand side))?/g,
    kind: 'resistance',
    value: 'OL',
  },
  {
    pattern:
      /\b(?:no continuity|no beep|doesn'?t beep|does not beep|not beeping|no tone|reads? open|tests? open|shows? open|is open|open circuit)\b/g,
    kind: 'continuity',
    value: 'open',
  },
  {
    pattern:
      /\b(?:beeps|beeped|beeping|got a beep|has continuity|have continuity|got continuity|good continuity|continuity (?:is )?(?:good|ok|fine)|reads? closed|tests? closed|shows? closed|is closed)\b/g,
    kind: 'continuity',
    value: 'closed',
  },
  { pattern: /\b(?:dead short|shorted|short circuit)\b/g, kind: 'resistance', value: 0 },
];

/** "bimetal closed at -19C", "tstat open": said of a part, never of a door. */
const STATE_ALONE = /\b(closed|open)\b(?=\s*(?:at\b|@|,|\.|;|$|cold\b|warm\b|and\b|when\b|\(|in\b))/g;

const BELOW = /^\s*(?:degrees?\s*)?(?:\u00b0\s*)?(?:c|f|celsius|fahrenheit)?\s*below(?:\s+(?:zero|freezing|0))?/;
const NOT_A_QUANTITY = /^\s*(?:st|nd|rd|th|x\b|times|years?|yrs?|yo\b|people|doors?|weeks? old|:\d)/;

/** Every quantity of a text, in order; numbers without a unit come out as `bare`. */
export function quantitiesIn(text: string): Found[] {
  const normal = normalForm(text);
  const found: Found[] = [];
  const numbers = numbersIn(normal);
  numbers.forEach((n, i) => {
    const next = numbers[i + 1];
    const quantity = withUnit(normal, n, next);
    if (quantity && !found.some((f) => f.start < quantity.end && quantity.start < f.end)) found.push(quantity);
  });
  for (const { pattern, kind, value } of SPECIAL)
    for (const m of normal.matchAll(pattern)) {
      const start = m.index;
      const end = start + m[0].length;
      if (found.some((f) => f.start < end && start < f.end && f.kind !== 'bare')) continue;
      for (let i = found.length - 1; i >= 0; i -= 1) {
        const f = found[i];
        if (f && f.start < end && start < f.end) found.splice(i, 1);
      }
      found.push({ kind, value, unit: kind === 'resistance' ? 'ohm' : null, start, end });
    }
  for (const m of normal.matchAll(STATE_ALONE)) {
    const start = m.index;
    const end = start + m[0].length;
    if (found.some((f) => f.start < end && start < f.end)) continue;
    found.push({
      kind: 'continuity',
      value: m[1] === 'closed' ? 'closed' : 'open',
      unit: null,
      start,
      end,
      weak: true,
    });
  }
  return found.sort((a, b) => a.start - b.start);
}

function withUnit(normal: string, n: NumberSpan, next: NumberSpan | undefined): Found | null {
  const rest = normal.slice(n.end, next && next.start > n.end ? Math.min(next.start + 24, n.end + 40) : n.end + 40);
  const span = (length: number): { start: number; end: number } => ({ start: n.start, end: n.end + length });
  if (n.scale !== 1) {
    const ohms = /^\s*-?(?:ohms?|\u03a9|r)(?![a-z])/.exec(rest);
    const metres =
      n.scale === 1e6 &&
      !ohms &&
      /^[^a-z]*(?:$|[a-z]+ (?:of|thick|deep))/.test(rest) &&
      /\d+ ?m$/.test(normal.slice(n.start, n.end)) &&
      n.value < 3;
    if (metres) return { kind: 'length', value: n.value, unit: 'm', ...span(0) };
    return {
      kind: 'resistance',
      value: n.value,
      unit: n.scale === 1e3 ? 'kohm' : 'Mohm',
      ...span(ohms?.[0].length ?? 0),
    };
  }
  const below = BELOW.exec(rest);
  if (below && n.value > 0) {
    const celsius = /\bc(?:elsius)?\b/.test(below[0]);
    const fahrenheit = /\bf(?:ahrenheit)?\b/.test(below[0]);
    return {
      kind: 'temperature',
      value: -n.value,
      unit: celsius ? 'degC' : fahrenheit ? 'degF' : 'deg',
      ...span(below[0].length),
    };
  }
  for (const rule of RULES) {
    const m = rule.pattern.exec(rest);
    if (!m) continue;
    if (rule.unit === 'A' && /^\s+a/.test(m[0]) && !/^\s+a(?:mps?|mperes?)/.test(m[0])) continue;
    if (/^\s*(?:range|scale|setting)\b/.test(rest.slice(m[0].length)) && rule.unit !== 'kohm') return null;
    return { kind: rule.kind, value: n.value * (rule.factor ?? 1), unit: rule.unit, ...span(m[0].length) };
  }
  const article = /^\s+(?:of\s+)?(?:a|an)\s+(inch|cm|centimet(?:er|re)|hour|day|week|month|foot)\b/.exec(rest);
  if (article) {
    const inner = RULES.find((r) => r.pattern.test(` ${article[1] ?? ''}`));
    if (inner)
      return { kind: inner.kind, value: n.value * (inner.factor ?? 1), unit: inner.unit, ...span(article[0].length) };
  }
  if (NOT_A_QUANTITY.test(rest)) return null;
  return { kind: 'bare', value: n.value, unit: null, ...span(0) };
}
