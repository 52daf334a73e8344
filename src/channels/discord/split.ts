/** A text in pieces that Discord takes, parted between paragraphs, else lines, else words. */

export const LONGEST = 2000;

export function split(text: string, most = LONGEST): string[] {
  const pieces: string[] = [];
  let rest = text.trim();
  while (rest.length > most) {
    const at = cutAt(rest, most);
    pieces.push(rest.slice(0, at).trim());
    rest = rest.slice(at).trim();
  }
  return rest || pieces.length === 0 ? [...pieces, rest] : pieces;
}

function cutAt(text: string, most: number): number {
  const head = text.slice(0, most);
  for (const sign of ['\n\n', '\n', ' ']) {
    const at = head.lastIndexOf(sign);
    if (at > most / 3) return at;
  }
  // never between the halves of a sign, nor behind a backslash that escapes the next
  const cut = /[\ud800-\udbff\\]$/.test(head) ? most - 1 : most;
  return cut;
}
