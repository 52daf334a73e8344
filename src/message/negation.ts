/** What stands under a negation: "not on the back wall", "nobody got shocked"; and what only looks like it. */
import type { Token } from './text.js';

const NOT_NEGATING = new Set([
  'only',
  'just',
  'merely',
  'simply',
  'sure',
  'doubt',
  'wonder',
  'idea',
  'stop',
  'stopping',
  'help',
  'matter',
]);
const ASKS = new Set(['is', 'are', 'was', 'does', 'do', 'did']);
const THAT = new Set(['that', 'this', 'it', 'there', 'these']);
/** "no they are clear": an answer, and a statement after it */
const AFTER_AN_ANSWER = new Set('it they i we he she there that this the my our you'.split(' '));
const SCOPE = 7;

/**
 * Whether the words from `from` to `to` (token numbers, both included) stand under a negation that is not one of them:
 * a negator before them in the same clause with at most a few words between ("isn't just warm" negates nothing, "not
 * x, it is y" ends at "it is"), or a bare "no" after them.
 */
export function isNegated(tokens: readonly Token[], from: number, to: number): boolean {
  return deniedBefore(tokens, from, 0) || answeredNo(tokens, to);
}

/** Whether a negator that says no to token `from` stands before it, at `lowest` or later. */
export function deniedBefore(tokens: readonly Token[], from: number, lowest: number): boolean {
  const clause = tokens[from]?.clause;
  // a phrase that says no itself is not denied by an earlier no: "no compressor, no fan"
  if (tokens[from]?.negator) return false;
  let words = 0;
  let subject = -1;
  for (let i = from - 1; i >= lowest; i -= 1) {
    const token = tokens[i];
    if (!token || token.clause !== clause) break;
    if (startsAnew(tokens, i + 1, from)) break;
    if (token.negator) return negates(tokens, i) && (subject < i + 2 || thinks(tokens, i + 1, subject));
    if (subject < 0 && WHO.has(token.word)) subject = i;
    words += token.filler ? 0.5 : 1;
    if (words > SCOPE) break;
  }
  return false;
}

/** "Smoke? No." */
function answeredNo(tokens: readonly Token[], to: number): boolean {
  const clause = tokens[to]?.clause ?? 0;
  const after = tokens[to + 1];
  return (
    after !== undefined &&
    after.clause === clause + 1 &&
    ANSWERS_NO.has(after.word) &&
    tokens[to + 2]?.clause !== after.clause
  );
}

/** "No cooling since I stabbed it": someone does something else; but "I don't think I smell it" denies the smell. */
const WHO = new Set(['i', 'we', 'he', 'she', 'they', 'there']);
const THINKING = new Set(
  'think believe suppose reckon guess feel notice noticed see seen know remember say'.split(' '),
);
const thinks = (tokens: readonly Token[], from: number, to: number): boolean =>
  tokens.slice(from, to).some((t) => THINKING.has(t.word)) && to - from <= 3;

/** Whether the negator at token `i` says no to what follows it. */
export function negates(tokens: readonly Token[], i: number): boolean {
  const here = tokens[i];
  const next = tokens[i + 1];
  if (!here || !next || next.clause !== here.clause) return true;
  if (NOT_NEGATING.has(next.word)) return false;
  // "isn't that smoke?", "doesn't it smell burnt": a question that means yes
  if (here.word === 'not' && ASKS.has(tokens[i - 1]?.word ?? '') && THAT.has(next.word)) return false;
  return !((here.word === 'no' || here.word === 'nope') && AFTER_AN_ANSWER.has(next.word));
}

/**
 * Whether a new statement begins at token `i`, so that a "not" before it says nothing of it: "and I smell", "it is",
 * "there is", or a comma, except in a list that goes on with "or" ("no smoke, sparks or smell").
 */
function startsAnew(tokens: readonly Token[], i: number, upTo: number): boolean {
  const here = tokens[i];
  const next = tokens[i + 1];
  if (!here || i > upTo) return false;
  if (here.word === 'and' || here.word === 'so')
    return next !== undefined && (SUBJECTS.has(next.word) || i + 1 >= upTo - 3);
  if ((here.word === 'it' || here.word === 'there' || here.word === 'now') && next?.word === 'is') return true;
  if (!here.comma) return false;
  return !tokens.slice(i, upTo + 6).some((t) => t.clause === here.clause && (t.word === 'or' || t.word === 'nor'));
}
const SUBJECTS = new Set('i we it there now the a he she they my our then also that this you'.split(' '));

const ANSWERS_NO = new Set(['no', 'none', 'nope', 'nothing']);
