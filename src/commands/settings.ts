/**
 * Each command is a file here: settings in, parts wired, exit code out. Only here are concrete parts named.
 *
 * This file: the settings, from the environment and an optional .env, checked at the start.
 */
import { existsSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { z } from 'zod';
import { UsageProblem } from './problem.js';

const snowflake = z.string().regex(/^\d{17,20}$/, 'a Discord id: 17 to 20 digits');
const line = z
  .string()
  .trim()
  .min(1)
  .max(500)
  .regex(/^[^\r\n]*$/, 'one line');

const schema = z.object({
  THAWLINE_DB: line.optional(),
  THAWLINE_KNOWLEDGE: line.optional(),
  THAWLINE_CONTACT: line.optional(),
  THAWLINE_UNITS: z.enum(['us', 'si'], 'us or si').optional(),
  THAWLINE_KEEP_DAYS: z.coerce
    .number('a whole number of days')
    .int('a whole number of days')
    .min(1, '1 or more')
    .max(36_500)
    .optional(),
  DISCORD_TOKEN: line.optional(),
  DISCORD_API_BASE: z.url('an address such as http://127.0.0.1:8080/api').optional(),
  DISCORD_GUILD_ID: snowflake.optional(),
  THAWLINE_DESK_CHANNEL_ID: snowflake.optional(),
  THAWLINE_TECHNICIAN_ROLE_ID: snowflake.optional(),
  THAWLINE_SENIOR_ROLE_ID: snowflake.optional(),
});

const KEEP_DAYS = 365;

export interface Settings {
  readonly db: string;
  readonly overlay: string | null;
  readonly contact: string | null;
  readonly units: 'us' | 'si' | null;
  /** closed cases older than this are emptied of people */
  readonly keepDays: number;
  readonly discord: {
    readonly token: string | null;
    readonly api: string | null;
    readonly guild: string | null;
    readonly deskChannel: string | null;
    readonly technicianRole: string | null;
    readonly seniorRole: string | null;
  };
}

/** Reads the settings; `db` on the command line wins over the environment. */
export function readSettings(db?: string): Settings {
  if (existsSync('.env')) process.loadEnvFile('.env');
  const given = Object.fromEntries(
    Object.keys(schema.shape).flatMap((key) => (process.env[key] ? [[key, process.env[key]]] : [])),
  );
  const result = schema.safeParse(given);
  if (!result.success) {
    const issue = result.error.issues[0];
    throw new UsageProblem(
      `${String(issue?.path[0])} is not right: expected ${issue?.message ?? 'another value'}. Set it in the environment or in .env.`,
    );
  }
  const s = result.data;
  return {
    db: db ?? s.THAWLINE_DB ?? join(dataFolder(), 'cases.db'),
    overlay: s.THAWLINE_KNOWLEDGE ?? null,
    contact: s.THAWLINE_CONTACT ?? null,
    units: s.THAWLINE_UNITS ?? null,
    keepDays: s.THAWLINE_KEEP_DAYS ?? KEEP_DAYS,
    discord: {
      token: s.DISCORD_TOKEN ?? null,
      api: s.DISCORD_API_BASE ?? null,
      guild: s.DISCORD_GUILD_ID ?? null,
      deskChannel: s.THAWLINE_DESK_CHANNEL_ID ?? null,
      technicianRole: s.THAWLINE_TECHNICIAN_ROLE_ID ?? null,
      seniorRole: s.THAWLINE_SENIOR_ROLE_ID ?? null,
    },
  };
}

function dataFolder(): string {
  return join(process.env['XDG_DATA_HOME'] || join(homedir(), '.local', 'share'), 'thawline');
}
