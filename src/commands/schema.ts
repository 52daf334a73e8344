/** `thawline schema`: the JSON Schemas of the JSON-lines channel and the escalation summary. */
import { parseArgs } from 'node:util';
import { z } from 'zod';
import { lineIn } from '../message/incoming.js';
import { escalation, lineOut } from '../message/outgoing.js';
import { UsageProblem } from './problem.js';

export const help = `thawline schema [in|out|escalation]
  The JSON Schemas of a line in, a line out, the escalation summary; without a word one object with the three.`;

export async function run(args: string[]): Promise<number> {
  const { positionals } = parseArgs({ args, options: {}, allowPositionals: true });
  const all = {
    in: z.toJSONSchema(lineIn, { io: 'input' }),
    out: z.toJSONSchema(lineOut),
    escalation: z.toJSONSchema(escalation),
  };
  const [word] = positionals;
  if (positionals.length > 1 || (word !== undefined && !(word in all)))
    throw new UsageProblem(`"${positionals.join(' ')}" is no schema: in, out or escalation`);
  process.stdout.write(`${JSON.stringify(word === undefined ? all : all[word as keyof typeof all], null, 2)}\n`);
  return 0;
}
