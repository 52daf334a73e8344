/** What must hold of a store whatever happened to its writers. */
import Sqlite from 'better-sqlite3';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { openStore } from '../../src/store/store.js';
import { keptAs, type Item, type Victim } from './victim.js';

export interface Verdict {
  /** acknowledged and not there, or there with another answer */
  readonly losses: readonly string[];
  /** handled, handed over or delivered more than once, or differently than it is stored */
  readonly doubles: readonly string[];
  /** anything else that is not as it should be */
  readonly unsound: readonly string[];
  readonly escalations: number;
  readonly delivered: number;
  readonly waiting: number;
}

/** The answers in the file by the id of their message, before any program could mend it. */
export function storedAnswers(folder: string): Map<string, string> {
  const path = join(folder, 'cases.db');
  if (!existsSync(path)) return new Map();
  const db = new Sqlite(path, { readonly: true });
  const tables = db.prepare<[], number>("SELECT count(*) FROM sqlite_master WHERE name = 'messages'").pluck().get();
  const rows = tables
    ? db
        .prepare<[], { id: string; answer: string }>(
          'SELECT message_id AS id, answer FROM messages WHERE message_id IS NOT NULL',
        )
        .all()
    : [];
  db.close();
  return new Map(rows.map((r) => [r.id, r.answer]));
}

export const waitingIn = (folder: string): number =>
  count(folder, 'SELECT count(*) FROM outbox WHERE delivered_at IS NULL');

function count(folder: string, sql: string): number {
  const db = new Sqlite(join(folder, 'cases.db'), { readonly: true });
  try {
    return db.prepare<[], number>(sql).pluck().get() ?? 0;
  } catch {
    // killed before there was a schema
    return 0;
  } finally {
    db.close();
  }
}

/** @param acknowledged the answers people got, by the id of their message */
export function judge(folder: string, acknowledged: ReadonlyMap<string, string>, victim: Victim): Verdict {
  const losses: string[] = [];
  const doubles: string[] = [];
  const unsound: string[] = [];
  const stored = storedAnswers(folder);
  for (const [id, answer] of acknowledged) {
    const [kept] = keptAs(victim, stored, id);
    if (kept === undefined) losses.push(`${id} was answered and is not there`);
    else if (victim.shown(kept) !== answer) losses.push(`${id} was answered otherwise than it is stored`);
  }
  const db = new Sqlite(join(folder, 'cases.db'), { readonly: true });
  const sound = db.pragma('integrity_check', { simple: true });
  if (sound !== 'ok') unsound.push(String(sound));
  if ((db.pragma('foreign_key_check') as unknown[]).length > 0) unsound.push('a row points to no case');
  for (const { id, n } of db
    .prepare<[], { id: string; n: number }>(
      'SELECT message_id AS id, count(*) AS n FROM messages WHERE message_id IS NOT NULL GROUP BY message_id HAVING n > 1',
    )
    .all())
    doubles.push(`${id} is stored ${n} times`);

  const store = openStore(join(folder, 'cases.db'));
  let escalations = 0;
  for (const caseId of store.cases()) {
    const events = store.events(caseId);
    const said = store.messages(caseId).filter((m) => m.said?.kind !== 'poll').length;
    const heard = events.filter((e) => e.type === 'heard').length;
    if (heard > said) doubles.push(`${caseId}: ${said} messages, heard ${heard} times`);
    if (heard < said) losses.push(`${caseId}: ${said} messages, heard ${heard} times`);
    let open = false;
    for (const e of events) {
      if (e.type === 'escalated') {
        if (open) doubles.push(`${caseId} was handed over twice`);
        open = true;
        escalations += 1;
      }
      if (e.type === 'escalation-ended') open = false;
    }
    const versions = db
      .prepare<[string], number>('SELECT version FROM events WHERE case_id = ? ORDER BY version')
      .pluck()
      .all(caseId);
    if (versions.some((v, i) => v !== i + 1)) unsound.push(`${caseId}: a gap among its events`);
    if (JSON.stringify(store.rebuild(caseId)) !== JSON.stringify(store.load(caseId)))
      unsound.push(`${caseId}: its state is not what its events say`);
  }
  store.close();

  const pages = db
    .prepare<[], { caseId: string; body: string; delivered: string | null }>(
      "SELECT case_id AS caseId, body, delivered_at AS delivered FROM outbox WHERE kind = 'page'",
    )
    .all();
  const items = db
    .prepare<[], Item & { delivered: string | null }>(
      'SELECT id, case_id AS caseId, kind, failed, delivered_at AS delivered FROM outbox',
    )
    .all();
  for (const item of items) {
    const times = victim.delivered?.(item) ?? null;
    if (times === null) continue;
    if (times > 1) doubles.push(`${item.kind} ${item.id} was delivered ${times} times`);
    if (times === 0 && item.delivered !== null) losses.push(`${item.kind} ${item.id} was never delivered`);
  }
  db.close();
  const written = existsSync(join(folder, 'pages')) ? readdirSync(join(folder, 'pages')) : [];
  for (const { caseId, body, delivered } of pages.filter((p) => p.delivered !== null)) {
    const { markdown, html } = JSON.parse(body) as { markdown: string; html: string };
    const is = (name: string, text: string): boolean =>
      written.includes(name) && readFileSync(join(folder, 'pages', name), 'utf8') === text;
    if (!is(`${caseId}.md`, markdown) || !is(`${caseId}.html`, html))
      doubles.push(`${caseId}: the page that was delivered is not the one that is stored (${delivered})`);
  }
  const handedOver = new Set(pages.map((p) => p.caseId));
  for (const name of written) if (!handedOver.has(name.split('.')[0] ?? '')) doubles.push(`${name}: a page of no case`);
  const handOvers = items.filter((i) => i.kind === 'page' || i.kind === 'escalation');
  const delivered = handOvers.filter((i) => i.delivered !== null).length;
  const waiting = items.filter((i) => i.delivered === null).length;
  return { losses, doubles, unsound, escalations, delivered, waiting };
}
