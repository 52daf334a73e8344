// How hard a text is to read, as a US school grade: the Flesch-Kincaid grade level, Kincaid, Fishburne, Rogers, Chissom:
// Derivation of new readability formulas for Navy enlisted personnel (1975):
// 0.39 words per sentence + 11.8 syllables per word - 15.59.

export interface Sentence {
  readonly text: string;
  readonly words: readonly string[];
}

/** Sentences end at . ! ? or a line's end; a number's point ends none. A {place} that is filled in counts as one word. */
export function sentencesOf(text: string): Sentence[] {
  return text
    .split(/(?<=[.!?]["')]*)\s+|\n+/)
    .map((s) => ({ text: s.trim(), words: s.match(/\{[a-z]+\}|[\p{L}\p{N}][\p{L}\p{N}'.-]*/giu) ?? [] }))
    .filter((s) => s.words.length > 0);
}

/** The grade of a pool of sentences; filled-in places are left out. */
export function grade(sentences: readonly Sentence[]): number {
  const words = sentences.flatMap((s) => s.words.filter((w) => !w.startsWith('{')));
  const syllables = words.reduce((sum, word) => sum + syllablesOf(word), 0);
  return 0.39 * (words.length / sentences.length) + 11.8 * (syllables / words.length) - 15.59;
}

/**
 * Syllables of an English word, near enough: its groups of vowels (y is one), without a silent -e, -es or -ed at the
 * end, and one more where two vowels sound apart (radio, dial, video, going).
 */
export function syllablesOf(word: string): number {
  const letters = word.toLowerCase().replaceAll(/[^a-z]/g, '');
  const spoken = letters
    .replace(/([^aeiouyl])e$|([aeiouy]l)e$/, '$1$2')
    .replace(/([^aeiouytdl])ed$|([aeiouy]l+)ed$/, '$1$2d')
    .replace(/([^aeiouylscxzgh])es$|([aeiouy]l)es$/, '$1$2s');
  const groups = spoken.match(/[aeiouy]+/g)?.length ?? 0;
  const apart = spoken.match(/ia|io(?!n)|(?<![qg])ua|(?<!p)eo|[aeiouy]ing$/g)?.length ?? 0;
  return Math.max(1, groups + apart);
}
