/** A table of DEVELOPERS.md that tells who may do what, cell by cell. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

export interface Cell {
  readonly act: string;
  readonly who: string;
  readonly what: string;
}

export function accessTable(heading: string): Cell[] {
  const text = readFileSync(fileURLToPath(new URL('../../DEVELOPERS.md', import.meta.url)), 'utf8');
  const section = text.split(`${heading}\n`)[1]?.split('\n## ')[0] ?? '';
  const [head = [], , ...rows] = section
    .split('\n')
    .filter((l) => l.startsWith('|'))
    .map((l) =>
      l
        .split('|')
        .slice(1, -1)
        .map((cell) => cell.trim()),
    );
  return rows.flatMap(([act = '', ...values]) => values.map((what, i) => ({ act, who: head[i + 1] ?? '', what })));
}
