/** Text that people wrote, as plain text on Discord: no markdown, no mention, no sign that turns the reading direction. */

const MARKDOWN = /[\\*_~|`>#[\]<]/g;
/** Signs that order or hide text; the joiners of emoji stay. */
const HIDDEN = /[\p{Cc}\u061c\u200b\u200e\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff]/gu;

/** Line breaks stay; "- " and "1. " at the start of a line are left as the lists that they are. */
export function escapeText(text: string): string {
  return text
    .split('\n')
    .map((line) => line.replaceAll(HIDDEN, '').replaceAll(MARKDOWN, '\\$&'))
    .join('\n')
    .replaceAll(/@(?=everyone|here)/g, '@\u200b');
}
