import { randomUUID } from 'node:crypto';

export const id = randomUUID();
