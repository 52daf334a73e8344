import Database from 'better-sqlite3';
import { randomUUID } from 'node:crypto';

export const open = (path: string): Database.Database => new Database(path);
export const stamp = (): string => `${Date.now()} ${new Date().toISOString()} ${Math.random()} ${randomUUID()}`;
