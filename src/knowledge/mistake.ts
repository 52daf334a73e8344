/** A mistake in the knowledge folder: where it is, what is wrong and how to mend it. Collected, never thrown. */
export interface Mistake {
  readonly file: string;
  readonly line: number;
  readonly problem: string;
  readonly mend: string;
}

export function mistakeLine(m: Mistake): string {
  return `${m.file}:${m.line}: ${m.problem}. ${m.mend}`;
}
