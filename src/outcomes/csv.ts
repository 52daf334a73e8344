/**
 * Figures as CSV (RFC 4180): one figure a line. A cell that a spreadsheet would take for a formula gets an apostrophe
 * in front, so that it stays words.
 */
import type { Figures } from './figures.js';

type Cell = string | number | null;

export function csvOf(figures: Figures): string {
  const rows: Cell[][] = [['figure', 'group', 'name', 'value', 'of', 'invented']];
  const row = (figure: string, group: string, name: string, value: number | null, of: number | null = null): void =>
    void rows.push([figure, group, name, value, of, String(figures.invented)]);
  row('cases', '', '', figures.cases);
  for (const [name, n] of Object.entries(figures.closedAs)) row('closed-as', '', name, n, figures.cases);
  for (const [name, n] of Object.entries(figures.causes)) row('cause', '', name, n, figures.cases);
  for (const [group, causes] of Object.entries(figures.byLayout))
    for (const [name, n] of Object.entries(causes)) row('cause-by-layout', group, name, n);
  for (const [group, causes] of Object.entries(figures.byControl))
    for (const [name, n] of Object.entries(causes)) row('cause-by-defrost-control', group, name, n);
  row('right-first-time', '', '', figures.rightFirstTime.count, figures.rightFirstTime.of);
  for (const key of ['mean', 'median'] as const) {
    row('questions', '', key, figures.questions[key]);
    row('days', '', key, figures.days[key]);
  }
  for (const [kind, { count, of, right }] of Object.entries(figures.escalations)) {
    row('escalations', kind, 'all', count);
    row('escalations', kind, 'right', right, of);
  }
  row('over-escalated', '', '', figures.overEscalated.count, figures.overEscalated.of);
  row('under-escalated', '', '', figures.underEscalated.count, figures.underEscalated.of);
  for (const [hazard, { level, count, takenBack }] of Object.entries(figures.hazards)) {
    row('hazard', level, hazard, count);
    row('hazard-taken-back', level, hazard, takenBack, count);
  }
  row('score', '', 'brier', figures.scores.brier, figures.scores.of);
  row('score', '', 'log', figures.scores.log, figures.scores.of);
  return rows.map((cells) => `${cells.map(cell).join(',')}\r\n`).join('');
}

/** A number stays one; words that begin like a formula are made plain, and quoted where a comma or a line needs it. */
export function cell(value: Cell): string {
  if (value === null) return '';
  if (typeof value === 'number') return String(value);
  const plain = /^(?:[\t\r\0]|\s*[=+\-@\uff1d\uff0b\uff0d\uff20])/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(plain) ? `"${plain.replaceAll('"', '""')}"` : plain;
}
