/**
 * Stretches of time as people say them: "three days", "a couple of weeks", "half a year", "by Thursday" after "Monday",
 * "since 2019". Each with its tokens, in hours, and how it was said. What it is the time of is not known here.
 */
import type { Stretch, StretchHow } from '../message/concepts.js';
import type { Token } from '../message/text.js';

const DAY = 24;
const HOURS: Readonly<Record<string, number>> = {
  minute: 1 / 60,
  min: 1 / 60,
  hour: 1,
  hr: 1,
  day: DAY,
  week: 7 * DAY,
  wk: 7 * DAY,
  fortnight: 14 * DAY,
  month: 30.4 * DAY,
  mth: 30.4 * DAY,
  mo: 30.4 * DAY,
  year: 365 * DAY,
  yr: 365 * DAY,
  yo: 365 * DAY,
  decade: 3650 * DAY,
};
const ONES: Readonly<Record<string, number>> = Object.fromEntries(
  'zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen'
    .split(' ')
    .map((word, i) => [word, i]),
);
const TENS: Readonly<Record<string, number>> = {
  twenty: 20,
  thirty: 30,
  forty: 40,
  fourty: 40,
  fifty: 50,
  sixty: 60,
  seventy: 70,
  eighty: 80,
  ninety: 90,
};
/** Loose amounts, as the number most people mean (from memory). */
const LOOSE: Readonly<Record<string, number>> = {
  a: 1,
  an: 1,
  another: 1,
  single: 1,
  couple: 2,
  few: 3,
  several: 5,
  dozen: 12,
  half: 0.5,
};
const BETWEEN = new Set('of or to good about around solid full whole or so and a an the'.split(' '));
const DAYS = ['sunday', 'monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday'];
const SHORT_DAYS: Readonly<Record<string, number>> = {
  sun: 0,
  mon: 1,
  tue: 2,
  tues: 2,
  wed: 3,
  thu: 4,
  thur: 4,
  thurs: 4,
  fri: 5,
  sat: 6,
};
const BACK = new Set(['ago', 'back', 'earlier', 'since']);
const FOR = new Set(['for', 'over', 'last', 'past', 'during', 'since', 'these']);
const EACH = new Set(['every', 'each', 'per']);
const TIMES: Readonly<Record<string, number>> = { once: 1, twice: 2, thrice: 3 };

const unitHours = (word: string): number | null => {
  const unit = word.endsWith('s') ? word.slice(0, -1) : word;
  return Object.hasOwn(HOURS, unit) ? (HOURS[unit] ?? null) : null;
};

/** All stretches of time in a text, in order. @param at ISO 8601, when it was said: for weekdays and years */
export function stretchesIn(tokens: readonly Token[], at: string | null): Stretch[] {
  const found: Stretch[] = [];
  for (let i = 0; i < tokens.length; i += 1) {
    const hours = unitHours(tokens[i]?.word ?? '');
    if (hours === null) continue;
    const amount = amountBefore(tokens, i) ?? (EACH.has(tokens[i - 1]?.word ?? '') ? { value: 1, from: i } : null);
    if (amount === null) continue;
    const half = tokens[i + 1]?.word === 'and' && tokens[i + 2]?.word === 'a' && tokens[i + 3]?.word === 'half';
    const last = half ? i + 3 : i;
    const ago = BACK.has(tokens[last + 1]?.word ?? '') && tokens[last + 1]?.clause === tokens[last]?.clause;
    const often = timesBefore(tokens, amount.from);
    const before = tokens[amount.from - 1]?.word ?? '';
    const how: StretchHow = ago
      ? 'ago'
      : often !== null || EACH.has(before)
        ? 'rate'
        : FOR.has(before)
          ? 'for'
          : 'plain';
    found.push({
      hours: ((amount.value + (half ? 0.5 : 0)) * hours) / (often?.times ?? 1),
      from: often?.from ?? (EACH.has(before) ? amount.from - 1 : amount.from),
      to: ago ? last + 1 : last,
      how,
    });
  }
  found.push(...weekdays(tokens, at), ...years(tokens, at));
  return found.sort((a, b) => a.from - b.from);
}

/** "Twice a week", "three times a year": how often, before the amount at token `from`. */
function timesBefore(tokens: readonly Token[], from: number): { readonly times: number; readonly from: number } | null {
  const word = tokens[from - 1]?.word ?? '';
  if (Object.hasOwn(TIMES, word)) return { times: TIMES[word] ?? 1, from: from - 1 };
  if (word !== 'times') return null;
  const times = numberAt(tokens, from - 2);
  return times !== null && times > 0 ? { times, from: from - 2 } : null;
}

/** "3", "two or three", "a couple of", "twenty five", "half a": the amount that ends right before token `i`. */
function amountBefore(tokens: readonly Token[], i: number): { readonly value: number; readonly from: number } | null {
  let k = i - 1;
  while (k >= 0 && i - k <= 3 && BETWEEN.has(tokens[k]?.word ?? '') && numberAt(tokens, k) === null) k -= 1;
  const near = numberAt(tokens, k);
  if (near === null || tokens[k]?.clause !== tokens[i]?.clause) return null;
  if (near === LOOSE['a'] && tokens[k]?.word === 'a' && numberAt(tokens, k - 1) === LOOSE['half'])
    return { value: 0.5, from: k - 1 };
  const tens = TENS[tokens[k - 1]?.word ?? ''];
  const value = tens !== undefined && near < 10 && near >= 1 ? tens + near : near;
  const start = value === near ? k : k - 1;
  // "2-3 days", "two or three weeks": the middle
  const joined = tokens[start - 1]?.word === 'or' || tokens[start - 1]?.word === 'to';
  const at = joined ? start - 2 : start - 1;
  const lower = joined || /^\d+$/.test(tokens[at]?.word ?? '') ? numberAt(tokens, at) : null;
  return lower !== null && lower >= 1 && lower < value
    ? { value: (lower + value) / 2, from: at }
    : { value, from: start };
}

function numberAt(tokens: readonly Token[], k: number): number | null {
  const word = tokens[k]?.word ?? '';
  if (/^\d+(?:[.,]\d+)?$/.test(word)) return Number(word.replace(',', '.'));
  for (const table of [ONES, TENS, LOOSE]) if (Object.hasOwn(table, word)) return table[word] ?? null;
  return null;
}

function dayAt(token: Token | undefined): number | null {
  const word = token?.word ?? '';
  const full = DAYS.indexOf(word.endsWith('s') && !DAYS.includes(word) ? word.slice(0, -1) : word);
  return full >= 0 ? full : Object.hasOwn(SHORT_DAYS, word) ? (SHORT_DAYS[word] ?? null) : null;
}

/** A second weekday after a first is that much later; the only one lies back from the day it was said. */
function weekdays(tokens: readonly Token[], at: string | null): Stretch[] {
  const named = tokens.flatMap((t, i) => {
    const day = dayAt(t);
    // "sun" and "sat" are words of their own
    return day === null || (t.word === 'sun' && tokens[i - 1]?.word === 'the') || t.word === 'sat' ? [] : [{ day, i }];
  });
  const found: Stretch[] = [];
  named.forEach(({ day, i }, n) => {
    const before = named[n - 1];
    if (before && before.day !== day)
      found.push({ hours: ((day - before.day + 7) % 7) * DAY, from: i, to: i, how: 'plain' });
    else if (!before && at !== null) {
      const today = new Date(at).getUTCDay();
      found.push({ hours: (((today - day + 6) % 7) + 1) * DAY, from: i, to: i, how: 'ago' });
    }
  });
  return found;
}

/** "In 2019", "since 2015". */
function years(tokens: readonly Token[], at: string | null): Stretch[] {
  if (at === null) return [];
  const now = new Date(at).getUTCFullYear();
  return tokens.flatMap((t, i) => {
    if (!/^(?:19[6-9]\d|20\d\d)$/.test(t.word)) return [];
    const back = now - Number(t.word);
    return back >= 0 && back <= 60 ? [{ hours: (back + 0.25) * 365 * DAY, from: i, to: i, how: 'ago' }] : [];
  });
}
