/**
 * Words that somebody wrote, made fit to be shown anywhere: on a terminal, on a page, in a list. What would move a
 * cursor, turn a line round, or hide is left out; every letter stays, so an escape sequence shows as the rest of it.
 */

/** Controls but the line break, halves of a character, and what is not drawn but for what joins letters and emoji. */
const UNSEEN = /(?!\n|\u200c|\u200d|\ufe0e|\ufe0f)[\p{Cc}\p{Cf}\p{Cs}\p{Default_Ignorable_Code_Point}]/gu;
const BREAKS = /[\r\n\u0085\u2028\u2029]+/g;

/** Text of several lines. */
export const shown = (text: string): string =>
  text.replaceAll('\r\n', '\n').replaceAll('\t', ' ').replaceAll(UNSEEN, '');

/** Text that must stay one line: what comes after a break could pass for somebody else's. */
export const shownInLine = (text: string): string => shown(text.replaceAll(BREAKS, ' ')).trim();
