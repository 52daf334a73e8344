/** A published number names its source, and that source stands in sources.yaml. */
import type { Files } from '../load.js';
import type { Mistake } from '../mistake.js';

export function checkSources(files: Files, mistakes: Mistake[]): void {
  const known = Object.keys(files['sources.yaml'].data);
  const all = Object.values(files).flat() as {
    file: string;
    data: unknown;
    line: (path: readonly PropertyKey[]) => number;
  }[];
  for (const { file, data, line } of all) {
    walk(data, [], (node, path) => {
      if (node['source'] === 'published' && typeof node['ref'] !== 'string')
        mistakes.push({
          file,
          line: line([...path, 'source']),
          problem: 'a published value without "ref"',
          mend: 'Name its entry of sources.yaml, or mark it common-practice or from-memory.',
        });
      if (typeof node['ref'] === 'string' && 'source' in node && !known.includes(node['ref']))
        mistakes.push({
          file,
          line: line([...path, 'ref']),
          problem: `no source is called "${node['ref']}"`,
          mend: `Allowed: ${known.join(', ')}.`,
        });
    });
  }
}

function walk(
  data: unknown,
  path: PropertyKey[],
  visit: (node: Record<string, unknown>, path: PropertyKey[]) => void,
): void {
  if (data === null || typeof data !== 'object') return;
  if (!Array.isArray(data)) visit(data as Record<string, unknown>, path);
  for (const [key, value] of Object.entries(data))
    walk(value, [...path, Array.isArray(data) ? Number(key) : key], visit);
}
