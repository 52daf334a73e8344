/**
 * The escalation as one page to print, in the order in which the one who drives out needs it: danger and the state of
 * the unit, what is wrong, what was measured, what it may be, then what to do on site. No script, nothing from outside.
 */
import type { CaseState } from '../case/state.js';
import type { Knowledge } from '../knowledge/facts.js';
import type { Escalation } from '../message/outgoing.js';
import { verdictShape } from '../pictures/verdict-shape.js';
import { judgeAll, type Judged } from '../readings/judge.js';
import { faultName, nameOf } from '../reply/names.js';
import { sensorPicture } from '../reply/pictures.js';
import { list, percent, say, type Slots } from '../reply/say.js';
import { tag, trusted, words, type Markup } from './markup.js';
import { dangerBox, type Texts } from './danger-box.js';
import { oddsOf } from './odds.js';
import { printStyle } from './print-style.js';
import { readingCells } from './reading-cells.js';
import { siteWork, type SiteJob, type SiteWork } from './site-work.js';

const WORDS = 'technician';
/** A cause less likely than this is no news on a page read in half a minute. */
const LEAST_SHOWN = 0.05;
/** What does not fit half a minute stands on the page to read, which is not cut. */
const MOST = { ruledOut: 4, notChecked: 4 };
/** While a danger stands, two jobs share the page. */
const MOST_IN_DANGER = { ruledOut: 2, notChecked: 3 };

export function printable(knowledge: Knowledge, state: CaseState, e: Escalation, units: 'us' | 'si'): string {
  const t = (key: string, slots: Slots = {}): string => say(knowledge, WORDS, `page.${key}`, slots);
  const when = (iso: string): string => timeText(t, iso, state.offset?.minutes ?? 0);
  const title = t('print.title', {
    urgency: t(`print.urgency.${e.urgency}`),
    kind: t(`kind.${e.kind}`),
    code: e.caseId,
  });
  const handedOver = t('print.taken', {
    when: when(e.createdAt),
    state: t(`print.state.${e.state}`, { who: e.claimedBy ?? '' }),
  });
  const told = (iso: string): string => whenSince(when, iso, e.createdAt);
  const { assessment: a, recommendation: r } = e;
  const stop = e.safety.hazards.some((h) => h.level === 'stop');
  const most = stop ? MOST_IN_DANGER : MOST;
  const judged = judgeAll(knowledge, state, WORDS);
  const work = siteWork(knowledge, e.safety.hazards, a.ranking);
  const known = [
    section(t('print.causes'), causes(knowledge, e, t)),
    section(t('ruled-out'), ruledOut(knowledge, e, most.ruledOut, t)),
    section(t('not-checked'), notChecked(knowledge, e, most.notChecked, stop, t)),
    section(t('conflicts'), items(a.conflicts.map((c) => c.text))),
  ];
  const photos = state.photos.map((p) =>
    p.of === null
      ? t('print.photo.plain', { when: when(p.at) })
      : t('print.photo', { when: when(p.at), of: nameOf(knowledge, WORDS, p.of) }),
  );
  const onSite = [
    stop ? null : section(t('why'), tag('p', {}, r.why)),
    ...jobs(knowledge, work, t),
    section(t('skill'), tag('p', {}, r.skill)),
    section(t('print.told'), items(e.safety.toldNotToDo)),
    section(t('print.photos'), items(photos)),
    section(
      t('print.contact'),
      items([
        e.background.contact ?? '',
        t(stop ? 'print.not-known.danger' : 'print.not-known'),
        t('transcript', { command: e.transcript }),
      ]),
    ),
    stop ? null : section(t('print.curve'), sensorFigure(knowledge, state, judged, units)),
  ];
  const body = tag(
    'main',
    {},
    tag('h1', {}, title),
    tag('p', { class: 'meta' }, handedOver),
    dangerBox(knowledge, state, e, stop, t, told),
    section(t('print.what'), [tag('p', { class: 'lead' }, e.situation), background(e, t)]),
    section(t('measured'), measuredTable(knowledge, judged, e, units, t, told)),
    tag('div', { class: 'columns' }, known, onSite),
  );
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${words(title).html}</title>
<style>${printStyle}</style>
</head>
<body>
${body.html}
</body>
</html>
`;
}

/** A heading and what stands under it; nothing at all where there is nothing. */
function section(heading: string, content: Markup | null | readonly (Markup | null)[]): Markup | null {
  const there = [content].flat().filter((c) => c !== null);
  return there.length > 0 ? tag('section', {}, tag('h2', {}, heading), there) : null;
}

function items(
  lines: readonly string[],
  kind: 'ul' | 'ol' = 'ul',
  attributes: Readonly<Record<string, string>> = {},
): Markup | null {
  const listed = lines.map((line) => tag('li', {}, line));
  return listed.length > 0 ? tag(kind, attributes, listed) : null;
}

function background({ background: b }: Escalation, t: Texts): Markup | null {
  const rows = (['unit', 'room', 'history', 'done'] as const).flatMap((key) => {
    const text = b[key];
    return text ? [tag('dt', {}, t(`print.${key}`)), tag('dd', {}, text)] : [];
  });
  return rows.length > 0 ? tag('dl', {}, rows) : null;
}

/** The one job, or two: the danger's, and what waits until it is cleared. */
function jobs(knowledge: Knowledge, { danger, cause }: SiteWork, t: Texts): (Markup | null)[] {
  const job = (of: SiteJob, checks: string, bring: string): (Markup | null)[] => [
    section(checks, items(of.firstChecks, 'ol')),
    section(bring, items(of.bring, 'ul', { class: 'short' })),
  ];
  const first = danger ?? cause?.job;
  const then = danger && cause;
  return [
    ...(first ? job(first, t('first-checks'), t('bring')) : []),
    ...(then
      ? job(then.job, t('print.then-checks', { cause: faultName(knowledge, WORDS, then.fault) }), t('print.then-bring'))
      : []),
  ];
}

/** What was not checked; while a danger stands, what needs power is marked as work for afterwards. */
function notChecked(knowledge: Knowledge, e: Escalation, most: number, stop: boolean, t: Texts): Markup | null {
  const isLive = (finding: string | null, reading: string | null): boolean => {
    const step = knowledge.findings.get(finding ?? '') ?? knowledge.readings.get(reading ?? '');
    return step?.needs.skill === 'live';
  };
  return items(
    e.assessment.notChecked
      .slice(0, most)
      .map(({ finding, reading, text }) =>
        stop && isLive(finding, reading) ? t('print.after-clearing', { text }) : text,
      ),
  );
}

function measuredTable(
  knowledge: Knowledge,
  judged: readonly Judged[],
  e: Escalation,
  units: 'us' | 'si',
  t: Texts,
  when: (iso: string) => string,
): Markup {
  const { readings } = e.assessment;
  if (readings.length === 0) return tag('p', {}, t('print.nothing-measured'));
  // the summary's readings are the judged ones, in their order
  const times = judged.map((j) => when(j.measured.at));
  const head = (['read', 'expected', 'verdict'] as const).map((key) => tag('th', { scope: 'col' }, t(`print.${key}`)));
  const rows = readings.map((r, i) => {
    const { part, value, expected, against, verdict } = readingCells(knowledge, r, units);
    const sign = `<svg viewBox="0 0 28 28" aria-hidden="true">${verdictShape(r.verdict, { x: 14, y: 14 })}</svg>`;
    return tag(
      'tr',
      {},
      tag(
        'th',
        { scope: 'row' },
        t('print.reading', { part, value }),
        tag('span', { class: 'meta' }, ` ${t('print.read-at', { when: times[i] ?? '' })}`),
      ),
      tag('td', {}, t('print.expected.against', { expected, against })),
      tag('td', { class: 'verdict' }, trusted(sign), verdict),
    );
  });
  return tag('table', {}, tag('thead', {}, tag('tr', {}, head)), tag('tbody', {}, rows));
}

function sensorFigure(
  knowledge: Knowledge,
  state: CaseState,
  judged: readonly Judged[],
  units: 'us' | 'si',
): Markup | null {
  const picture = sensorPicture({ knowledge, words: WORDS, units }, state, judged);
  return picture && tag('figure', {}, trusted(picture.svg));
}

function causes(knowledge: Knowledge, { assessment }: Escalation, t: Texts): Markup | null {
  const odds = (p: number): { odds: string; percent: number } => ({
    odds: t(`odds.${oddsOf(p)}`),
    percent: percent(p),
  });
  const name = (fault: string | undefined): string => faultName(knowledge, WORDS, fault ?? '');
  return items(
    [
      ...assessment.ranking
        .filter((c) => c.probability >= LEAST_SHOWN)
        .map((c) => t('print.cause', { cause: name(c.fault), ...odds(c.probability) })),
      ...assessment.pairs.map(({ faults: [one, other], probability }) =>
        t('print.pair', { one: name(one), other: name(other), ...odds(probability) }),
      ),
    ],
    'ol',
  );
}

/** What is out, by what speaks against it: a fact that rules out several is said once. */
function ruledOut(knowledge: Knowledge, { assessment }: Escalation, most: number, t: Texts): Markup | null {
  const by = new Map<string, string[]>();
  for (const { fault, because } of assessment.ruledOut)
    by.set(because, [...(by.get(because) ?? []), faultName(knowledge, WORDS, fault)]);
  const lines = [...by].map(([because, faults]) =>
    t('print.ruled-out', { list: list(knowledge, WORDS, faults), because }),
  );
  const more = lines.length - most;
  return items(more > 0 ? [...lines.slice(0, most), t('print.more', { n: more })] : lines);
}

/** The hour alone where it is the day of the hand-over. */
function whenSince(when: (iso: string) => string, iso: string, handedOver: string): string {
  const [day = '', hour = ''] = when(iso).split(' ');
  return when(handedOver).startsWith(day) ? hour : when(iso);
}

/** A moment on the caller's clock, in UTC where that is not known. */
function timeText(t: Texts, iso: string, offset: number): string {
  const local = new Date(Date.parse(iso) + offset * 60_000).toISOString();
  const [hours, minutes] = [Math.floor(Math.abs(offset) / 60), Math.abs(offset) % 60];
  const zone = offset === 0 ? 'UTC' : `UTC${offset < 0 ? '-' : '+'}${hours}${minutes ? `:${minutes}` : ''}`;
  return t('print.time', { date: local.slice(0, 10), time: local.slice(11, 16), zone });
}
