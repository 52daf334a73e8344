/** Numbers as people write them: digits, decimal comma, thousands, fractions, words, "2k3", "ten below". */

export interface NumberSpan {
  readonly value: number;
  readonly start: number;
  readonly end: number;
  /** k or M written inside or right behind the number */
  readonly scale: 1 | 1e3 | 1e6;
  readonly words: boolean;
}

const SMALL: Readonly<Record<string, number>> = {
  zero: 0,
  one: 1,
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
  ten: 10,
  eleven: 11,
  twelve: 12,
  thirteen: 13,
  fourteen: 14,
  fifteen: 15,
  sixteen: 16,
  seventeen: 17,
  eighteen: 18,
  nineteen: 19,
};
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
const PARTS: Readonly<Record<string, number>> = {
  half: 0.5,
  quarter: 0.25,
  quarters: 0.25,
  third: 1 / 3,
  eighth: 0.125,
  eighths: 0.125,
  thirds: 1 / 3,
};
const GLYPHS: Readonly<Record<string, number>> = { '\u00bd': 0.5, '\u00bc': 0.25, '\u00be': 0.75 };

const ANY_WORD = Object.keys({ ...SMALL, ...TENS }).join('|');
const WORD_NUMBER = new RegExp(
  `\\b(?:(minus|negative)\\s+)?((?:${ANY_WORD}|hundred|thousand|point|half|quarters?|thirds|eighths)(?:[\\s-]+(?:and\\s+)?(?:a\\s+)?(?:${ANY_WORD}|hundred|thousand|point|half|quarters?|thirds|eighths))*)\\b`,
  'g',
);
const DIGITS =
  /(?<![a-z0-9.,])(?:(minus|negative)\s+|([-+])\s?)?(\d{1,3}(?:[ ,]\d{3})+(?:\.\d+)?|\d+[.,]\d+|\d+|[.,]\d+)(?:\s*(\u00bd|\u00bc|\u00be)|[\s-]+(\d+)\/(\d+)|\/(\d+))?(?:\s*(k|m)(\d{1,2})?(?![a-z0-9])|\s*(k|m)(?=\s*-?(?:ohm|\u03a9|r\b)))?/g;
const LONE_GLYPH = /[\u00bd\u00bc\u00be]/g;

/** All numbers of a text in its normal form, in order. */
export function numbersIn(normal: string): NumberSpan[] {
  const found: NumberSpan[] = [];
  for (const m of normal.matchAll(DIGITS)) {
    const [whole, minusWord, sign, digits = '', glyph, over, under, slash, k1, after, k2] = m;
    let value = readDigits(digits);
    if (Number.isNaN(value)) continue;
    if (glyph) value += GLYPHS[glyph] ?? 0;
    if (over && under && Number(under) !== 0) value += Number(over) / Number(under);
    if (slash && Number(slash) !== 0) value /= Number(slash);
    const letter = k1 ?? k2;
    const scale = letter === 'k' ? 1e3 : letter === 'm' ? 1e6 : 1;
    if (after) value += Number(after) / 10 ** after.length;
    const negative =
      minusWord !== undefined ||
      (sign === '-' &&
        !/[a-z0-9]\s?$/.test(
          normal.slice(Math.max(0, m.index - 2), m.index).trimEnd() === '' ? '' : normal.slice(m.index - 1, m.index),
        ));
    found.push({ value: negative ? -value : value, start: m.index, end: m.index + whole.length, scale, words: false });
  }
  for (const m of normal.matchAll(LONE_GLYPH))
    if (!found.some((n) => n.start <= m.index && m.index < n.end))
      found.push({ value: GLYPHS[m[0]] ?? 0, start: m.index, end: m.index + 1, scale: 1, words: false });
  for (const m of normal.matchAll(WORD_NUMBER)) {
    const value = readWords((m[2] ?? '').split(/[\s-]+/));
    if (value === null || found.some((n) => n.start < m.index + m[0].length && m.index < n.end)) continue;
    found.push({ value: m[1] ? -value : value, start: m.index, end: m.index + m[0].length, scale: 1, words: true });
  }
  return joined(
    normal,
    found.sort((a, b) => a.start - b.start),
  );
}

/** "16 point 3", "7 and a half k": one number in two pieces. */
function joined(normal: string, found: readonly NumberSpan[]): NumberSpan[] {
  const out: NumberSpan[] = [];
  for (const n of found) {
    const before = out.at(-1);
    const between = before ? normal.slice(before.end, n.start) : '';
    if (before?.scale === 1 && /^\s*point\s*$/.test(between) && Number.isInteger(n.value)) {
      const digits = String(n.value);
      out[out.length - 1] = { ...n, value: before.value + n.value / 10 ** digits.length, start: before.start };
    } else if (before?.scale === 1 && n.words && n.value < 1 && /^\s*and(?:\s+a)?\s*$/.test(between)) {
      const scale = /^\s*k(?![a-z])/.exec(normal.slice(n.end));
      const end = n.end + (scale?.[0].length ?? 0);
      out[out.length - 1] = { ...before, value: before.value + n.value, end, scale: scale ? 1e3 : 1 };
    } else {
      // "eleven k", "one point eight meg"
      const scale = n.words ? /^\s*(k|kilo|meg|mega)(?![a-z])/.exec(normal.slice(n.end)) : null;
      out.push(scale ? { ...n, scale: scale[1]?.startsWith('k') ? 1e3 : 1e6, end: n.end + scale[0].length } : n);
    }
  }
  return out;
}

/** 12,6 is twelve point six; 12,600 and 12 600 are thousands. */
function readDigits(digits: string): number {
  if (/^\d{1,3}([ ,]\d{3})+(\.\d+)?$/.test(digits)) return Number(digits.replaceAll(/[ ,]/g, ''));
  return Number(digits.replace(',', '.'));
}

function readWords(words: readonly string[]): number | null {
  let total = 0;
  let current = 0;
  let decimals = '';
  let afterPoint = false;
  let any = false;
  for (const word of words) {
    if (word === 'and' || word === 'a') continue;
    if (word === 'point') {
      afterPoint = true;
      continue;
    }
    if (afterPoint && word in SMALL) decimals += String(SMALL[word]);
    else if (word in SMALL) current += SMALL[word] ?? 0;
    else if (word in TENS) current += TENS[word] ?? 0;
    else if (word in PARTS)
      current = word.endsWith('s') && current > 0 ? current * (PARTS[word] ?? 0) : current + (PARTS[word] ?? 0);
    else if (word === 'hundred') current = (current || 1) * 100;
    else if (word === 'thousand') {
      total += (current || 1) * 1000;
      current = 0;
    } else return null;
    any = true;
  }
  return any ? total + current + (decimals ? Number(`0.${decimals}`) : 0) : null;
}
