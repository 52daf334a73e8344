import { readFileSync } from 'node:fs';

export const text = readFileSync('x', 'utf8');
