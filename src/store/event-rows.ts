/** An event as a row: who did it and what a person wrote in it stand in columns of their own, so that they can be erased. */
import { caseEvent, WORDS, type CaseEvent } from '../case/events.js';

export interface EventRow {
  readonly at: string;
  readonly type: string;
  readonly data: string;
  readonly person: string | null;
  readonly words: string | null;
}

export function rowOf(event: CaseEvent): EventRow {
  const { at, type, ...rest } = event as CaseEvent & Record<string, unknown>;
  const own = WORDS[type] ?? [];
  const words: Record<string, unknown> = {};
  const data: Record<string, unknown> = {};
  let person: string | null = null;
  for (const [key, value] of Object.entries(rest)) {
    if (key === 'by') person = value as string;
    else if (own.includes(key)) words[key] = value;
    else data[key] = value;
  }
  return { at, type, data: JSON.stringify(data), person, words: own.length > 0 ? JSON.stringify(words) : null };
}

/** Checked by its own schema, since the file is an edge. Erased people have no name, erased words are null. */
export function eventOf(row: EventRow): CaseEvent {
  const data = JSON.parse(row.data) as Record<string, unknown>;
  const erased = Object.fromEntries((WORDS[row.type] ?? []).map((key) => [key, null]));
  const words = row.words === null ? {} : (JSON.parse(row.words) as Record<string, unknown>);
  const whole = { type: row.type, at: row.at, ...data, ...erased, ...words };
  return caseEvent.parse(NO_PERSON.has(row.type) ? whole : { ...whole, by: row.person ?? '' });
}

const NO_PERSON: ReadonlySet<string> = new Set(
  caseEvent.options.filter(({ shape }) => !('by' in shape)).map(({ shape }) => shape.type.value),
);
