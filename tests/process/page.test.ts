/**
 * From a danger told in the talk to the printed page, in a real browser: what stands on it, one sheet of A4 and of
 * Letter, accessible, and readable on a phone. Without a Chromium on the PATH the tests are skipped, and say so.
 */
import axe from 'axe-core';
import { existsSync, readFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium, type Browser, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Answer } from '../../src/message/outgoing.js';
import { jsonLines, newFolder, outLines, run } from './program.js';

const executablePath = (process.env['PATH'] ?? '')
  .split(delimiter)
  .flatMap((folder) => ['chromium', 'chromium-browser'].map((name) => join(folder, name)))
  .find((path) => existsSync(path));
const found = executablePath !== undefined;
if (!found) process.stderr.write('No Chromium on the PATH: the printed page is not checked in a browser.\n');

const tech = { id: 'u1', role: 'technician' };
const home = { id: 'u2', role: 'homeowner' };
const at = (minute: number): string => `2026-11-25T09:${String(minute).padStart(2, '0')}:00-05:00`;

/** A technician's whole case, and then a shock. */
const SHOCK = [
  { from: tech, at: at(10), text: 'SxS, FF warm, evap full blanket of frost, came back in 5 days, electronic control' },
  {
    from: tech,
    at: at(12),
    reading: { part: 'defrost-sensor', quantity: 'resistance', value: 5.4, unit: 'kohm', atC: 22.8 },
  },
  { from: tech, at: at(13), reading: { part: 'defrost-heater', quantity: 'resistance', value: 'OL' } },
  { from: tech, at: at(14), reading: { part: 'defrost-thermostat', quantity: 'continuity', value: 'open', atC: 5 } },
  { from: tech, at: at(15), reading: { part: 'freezer', quantity: 'temperature', value: 20, unit: 'degF' } },
  { from: tech, at: at(16), reading: { part: 'supply', quantity: 'voltage', value: 118, unit: 'V' } },
  { from: tech, at: at(17), text: 'got a tingle off the cabinet' },
  { from: tech, at: at(18), answer: { finding: 'unit.power', value: 'off' } },
];
const CASES: Readonly<Record<string, readonly object[]>> = {
  'a shock after a whole diagnosis': SHOCK,
  'a burning smell at once': [{ from: home, text: 'there is a burning smell from the fridge' }],
  'a person asked for at once': [{ from: home, text: 'a person please' }],
  'a homeowner who asks for a person after some answers': [
    { from: home, text: 'thick white frost on the back wall of the freezer, and the fridge is warm' },
    { from: home, answer: { finding: 'unit.layout', value: 'top-freezer' } },
    { from: home, answer: { finding: 'frost.onset', value: 'gradual' } },
    { from: home, answer: { finding: 'frost.return-time', value: 'days' } },
    { from: home, text: 'I want to talk to a person' },
  ],
};

interface Written {
  readonly answer: Answer;
  readonly path: string;
}
const written = new Map<readonly object[], Promise<Written>>();

/** Plays the lines, once; the last answer and where its page is. */
function pageOf(lines: readonly object[]): Promise<Written> {
  const known = written.get(lines) ?? play(lines);
  written.set(lines, known);
  return known;
}

async function play(lines: readonly object[]): Promise<Written> {
  const folder = newFolder();
  const ended = await run(
    ['stdio', '--db', join(folder, 'cases.db')],
    jsonLines(lines.map((l) => ({ case: 'k1', ...l }))),
  );
  expect(ended.code).toBe(0);
  const answers = outLines(ended.out).map((line) => JSON.parse(line) as Answer);
  const answer = answers.at(-1) as Answer;
  const path = join(folder, 'pages', `${answer.caseId}.html`);
  expect(answers.some((a) => a.reply.includes(path))).toBe(true);
  return { answer, path };
}

/** Pages of a PDF by its own page objects. */
const sheets = (pdf: Buffer): number => (pdf.toString('latin1').match(/\/Type\s*\/Page\b/g) ?? []).length;

describe.skipIf(!found)('the printed page, in Chromium', () => {
  let browser: Browser;
  beforeAll(async () => {
    // a browser's own sandbox does not start for root
    const sandbox = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
    browser = await chromium.launch({ executablePath: executablePath ?? '', args: sandbox });
  });
  afterAll(() => browser.close());

  async function opened(path: string, width = 1000): Promise<{ page: Page; asked: string[] }> {
    const page = await browser.newPage({ viewport: { width, height: 800 } });
    const asked: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    await page.goto(pathToFileURL(path).href);
    return { page, asked };
  }

  it('tells a shock first, then the state of the unit, and all that was measured', async () => {
    const { answer, path } = await pageOf(SHOCK);
    expect(answer).toMatchObject({ status: 'escalated', escalation: { kind: 'hazard', urgency: 'now' } });
    const { page, asked } = await opened(path);
    const text = await page.innerText('body');
    expect(asked).toEqual([pathToFileURL(path).href]);
    expect(await page.title()).toBe(`GO NOW: Hazard, case ${answer.caseId}`);
    const order = [
      'GO NOW',
      'STOP: electric shock',
      'Power: plug out or breaker off (the technician there says, 09:18)',
      'What is wrong',
      'Measured',
      'Causes',
      'First checks',
    ];
    const places = order.map((words) => text.indexOf(words));
    expect(places.every((p, i) => p >= 0 && p > (places[i - 1] ?? -1))).toBe(true);
    for (const words of ['5.4 kohm at 73 F', 'OL', 'open at 41 F', '118 V', 'good', 'bad', 'inconclusive', '(UTC-5)'])
      expect(text).toContain(words);
    expect(text).toContain(`Contact through the case ${answer.caseId}`);
    await page.close();
  });

  it.each(Object.entries(CASES))('%s: one sheet of A4 and one of Letter', async (_, lines) => {
    const { path } = await pageOf(lines);
    const { page } = await opened(path);
    for (const format of ['A4', 'Letter']) expect(sheets(await page.pdf({ format })), format).toBe(1);
    await page.close();
  });

  it.each(Object.entries(CASES))('%s: no violation of an accessibility rule', async (_, lines) => {
    const { path } = await pageOf(lines);
    for (const width of [360, 1000]) {
      const { page } = await opened(path, width);
      await page.evaluate(axe.source);
      const { violations, passes } = await page.evaluate<axe.AxeResults>('axe.run()');
      expect(violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html).join(' ')}`)).toEqual([]);
      expect(passes.map((p) => p.id)).toEqual(
        expect.arrayContaining(['color-contrast', 'document-title', 'html-has-lang', 'page-has-heading-one']),
      );
      await page.close();
    }
  });

  it.each(Object.entries(CASES))('%s: nothing to push sideways at 360 px', async (_, lines) => {
    const { path } = await pageOf(lines);
    const { page } = await opened(path, 360);
    const widest = `Math.max(document.documentElement.scrollWidth, ...[...document.querySelectorAll('body *')]
      .filter((e) => !e.closest('svg')).map((e) => e.getBoundingClientRect().right))`;
    expect(await page.evaluate(widest)).toBeLessThanOrEqual(360);
    // 16 px is what a browser takes for ordinary text; the table alone is a little smaller
    const smallest = `Math.min(...[...document.querySelectorAll('p, li, td, th, dd')]
      .map((e) => parseFloat(getComputedStyle(e).fontSize)))`;
    expect(await page.evaluate(smallest)).toBeGreaterThanOrEqual(14);
    await page.close();
  });

  it('a correction is on the page at once', async () => {
    const { path } = await pageOf([
      ...(CASES['a homeowner who asks for a person after some answers'] ?? []),
      { from: home, answer: { finding: 'unit.layout', value: 'chest-freezer' } },
    ]);
    const { page } = await opened(path);
    expect(await page.innerText('body')).toMatch(/chest/i);
    await page.close();
  });
});

it('the page is there to read as well, beside the one to print', async () => {
  const { path } = await pageOf(CASES['a burning smell at once'] ?? []);
  expect(readFileSync(path.replace(/\.html$/, '.md'), 'utf8')).toMatch(/^# Hazard, now/);
  expect(readFileSync(path, 'utf8')).toMatch(/^<!doctype html>/);
});
