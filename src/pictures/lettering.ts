/**
 * How wide words will be, without a font at hand: each letter counts as wide as the widest of its kind in DejaVu Sans,
 * so that an estimate errs a little to the wide side and a line that fits here fits in the picture.
 */

/** Letters of about one width, then that width in em, regular and bold (the fonts' own advance widths, rounded up). */
const KINDS: readonly (readonly [letters: string, regular: number, bold: number])[] = [
  [`'ijlIJ`, 0.3, 0.38],
  [' .,:;’‘|/\\', 0.34, 0.4],
  ['f-()[]tr!', 0.42, 0.5],
  ['*_°–szc?', 0.56, 0.6],
  ['kvxyoaeLFT"“”', 0.62, 0.69],
  ['hnubdgpqPYESµ{}$0123456789', 0.64, 0.74],
  ['KAVXZBRC', 0.7, 0.78],
  ['UNHΩDGOQ&', 0.79, 0.88],
  ['w#+<=>^~±−×≈≤≥', 0.84, 0.93],
  ['M%m', 0.98, 1.05],
];
const WIDEST = [1, 1.11] as const;

const EM = new Map(
  KINDS.flatMap(([kind, regular, bold]) => Array.from(kind, (letter) => [letter, [regular, bold] as const])),
);

/** Width in px of words in a size in px; never less than it will be for English lettering. */
export function estimatedWidth(words: string, size: number, bold = false): number {
  const em = Array.from(words).reduce((sum, letter) => sum + (EM.get(letter) ?? WIDEST)[bold ? 1 : 0], 0);
  return em * size;
}

/** Words in lines that each fit a width in px; a word longer than a line is broken. */
export function wrapped(words: string, width: number, size: number, bold = false): string[] {
  const fits = (line: string): boolean => estimatedWidth(line, size, bold) <= width;
  const lines: string[] = [];
  let line = '';
  for (const word of words.split(/\s+/u).filter(Boolean)) {
    const longer = line ? `${line} ${word}` : word;
    if (fits(longer)) {
      line = longer;
      continue;
    }
    if (line) lines.push(line);
    line = '';
    for (const letter of word) {
      if (line && !fits(line + letter)) {
        lines.push(line);
        line = '';
      }
      line += letter;
    }
  }
  if (line) lines.push(line);
  return lines;
}
