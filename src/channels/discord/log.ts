/** The log, as JSON lines on standard error. No token ever gets into it: not the bot's own, not one of an interaction. */
import { pino, type DestinationStream, type Logger } from 'pino';

export type Log = Logger;

const SECRET = ['token', '*.token', 'authorization', '*.authorization', 'headers.authorization'];

/** @param token the bot's, taken out of any line that would hold it */
export function makeLog(token: string, destination: DestinationStream): Log {
  const clean = (text: string): string =>
    text.replaceAll(token, '[token]').replaceAll(/\/(interactions|webhooks)\/(\d+)\/[^/\s?]+/g, '/$1/$2/[token]');
  return pino(
    {
      base: null,
      redact: { paths: SECRET, censor: '[token]' },
      formatters: { level: (level) => ({ level }) },
      timestamp: pino.stdTimeFunctions.isoTime,
      serializers: {
        err: (error: unknown) => {
          if (!(error instanceof Error)) return clean(String(error));
          const { code, status, method, url } = error as Error & Record<string, unknown>;
          const where = typeof url === 'string' ? clean(new URL(url).pathname) : undefined;
          return {
            type: error.name,
            message: clean(error.message),
            code,
            status,
            method,
            where,
            stack: clean(error.stack ?? ''),
          };
        },
      },
      hooks: {
        logMethod(args, method) {
          const safe = args.map((arg: unknown) => (typeof arg === 'string' ? clean(arg) : arg));
          Reflect.apply(method, this, safe);
        },
      },
    },
    destination,
  );
}
