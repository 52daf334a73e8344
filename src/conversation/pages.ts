/** The pages of a hand-over as one item of the outbox: the same escalation to read, and to print. */
import type { CaseState } from '../case/state.js';
import { printable } from '../handoff/html.js';
import { pageOf } from '../handoff/page.js';
import type { Knowledge } from '../knowledge/facts.js';
import type { Escalation } from '../message/outgoing.js';

export interface Pages {
  readonly markdown: string;
  readonly html: string | null;
}

export const PAGE = 'page';
export const pageId = (caseId: string): string => `page-${caseId}`;

export function pagesOf(knowledge: Knowledge, state: CaseState, escalation: Escalation): string {
  const units = state.units ?? 'us';
  const pages: Pages = {
    markdown: pageOf(knowledge, escalation, units),
    html: printable(knowledge, state, escalation, units),
  };
  return JSON.stringify(pages);
}

/** An item of an earlier version holds the Markdown alone. */
export function pagesIn(body: string): Pages {
  return body.startsWith('{') ? (JSON.parse(body) as Pages) : { markdown: body, html: null };
}
