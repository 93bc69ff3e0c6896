import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Browser, launch, type Page } from 'puppeteer-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readJob } from '../../src/core/job-file.js';
import { readPress } from '../../src/core/press-file.js';
import { readReadings } from '../../src/core/readings/read-readings.js';
import { replayRun } from '../../src/core/run/from-file.js';
import type { RunState } from '../../src/core/run/state.js';
import type { HandoverView } from '../../src/core/views/handover-view.js';
import { runTeller } from '../../src/core/views/run-teller.js';
import { handoverHtml } from '../../src/report/handover-html.js';
import { handoverText } from '../../src/report/handover-text.js';
import { holdTagsHtml } from '../../src/report/hold-tags-html.js';
import { runReportHtml } from '../../src/report/run-report.js';
import { chartSvg } from '../../src/report/svg/chart-svg.js';
import { chartsOf } from './charts.js';
import { findChromium } from './find-chromium.js';
import { HOSTILE, hostileShift } from './hostile.js';
import { SHIFTS, wholeShift } from './shifts.js';

/**
 * The pages in a real browser: nothing on its console, no request but the file itself, nothing that axe-core finds, no sideways scrolling on a
 * phone, the page count on A4 and Letter. Skipped where there is no Chromium, unless HOLDREG_NEEDS_CHROMIUM=1 says that a skip is a failure.
 */
const chromium = findChromium();
if (chromium === null)
  console.warn('No Chromium found (apt-get install chromium, or set CHROMIUM): the pages are not opened in a browser.');
const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** The report of the demo's own recording, told as a run's log is. */
const fromLog = (): HandoverView => {
  const read = (name: string): string => readFileSync(new URL(`../../demo-data/${name}`, import.meta.url), 'utf8');
  const press = readPress(read('press.json'), 'press.json');
  if (!press.ok) throw new Error(press.problem.message);
  const job = readJob(read('job.json'), 'job.json', press.value);
  if (!job.ok) throw new Error(job.problem.message);
  const runs = readReadings(read('run.csv'), 'run.csv', { press: press.value, job: job.value });
  if (!runs.ok) throw new Error(runs.problem.message);
  const [run] = runs.value;
  if (run === undefined) throw new Error('no run');
  const teller = runTeller();
  let before: RunState | null = null;
  const ended = replayRun(press.value, job.value, run, 'run.csv', ({ state, record, found }) => {
    teller.take(record, before, state, found);
    before = state;
  });
  if (!ended.ok) throw new Error(ended.problem.message);
  return teller.view(ended.value, Date.UTC(2026, 2, 2, 17), null);
};

const BAD = 'a page that is wrong on purpose';
const PAGES: Readonly<Record<string, string>> = {
  ...Object.fromEntries(
    Object.entries(SHIFTS).map(([name, view]) => [
      name,
      handoverHtml(view.checks.made > 0 ? { ...view, charts: chartsOf(view) } : view),
    ]),
  ),
  [BAD]:
    '<html><body style="color:#ccc"><img src="http://127.0.0.1:9/x.png"><p>grey</p><script>console.log(1)</script></body></html>',
  'demo from its log': handoverHtml(fromLog()),
  'run report': runReportHtml({ ...wholeShift, charts: chartsOf(wholeShift) }),
  'hold tags': holdTagsHtml(SHIFTS['busy-shift'] ?? hostileShift('')),
  ...Object.fromEntries(
    Object.entries(HOSTILE).map(([name, words]) => [
      `hostile ${name}`,
      handoverHtml({ ...hostileShift(words), charts: chartsOf(hostileShift(words)) }),
    ]),
  ),
};

test('a browser is there where it must be', () => {
  expect(process.env.HOLDREG_NEEDS_CHROMIUM === '1' && chromium === null).toBe(false);
});

describe.skipIf(chromium === null)('pages in Chromium', () => {
  let folder = '';
  let browser: Browser;
  let page: Page;
  const seen: string[] = [];
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'holdreg-pages-'));
    browser = await launch({ executablePath: chromium ?? '', headless: true, args: ['--no-sandbox', '--disable-gpu'] });
    page = await browser.newPage();
    page.on('console', (message) => seen.push(`console: ${message.text()}`));
    page.on('pageerror', (error) => seen.push(`error: ${String(error)}`));
    page.on('request', (request) => {
      if (!request.url().startsWith('data:') && !request.isNavigationRequest()) seen.push(`request: ${request.url()}`);
    });
    page.on('dialog', (dialog) => {
      seen.push(`dialog: ${dialog.message()}`);
      void dialog.dismiss();
    });
  });
  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const open = async (name: string, width: number): Promise<void> => {
    seen.length = 0;
    const path = join(folder, 'page.html');
    writeFileSync(path, PAGES[name] ?? '');
    await page.setViewport({ width, height: 800 });
    await page.goto(pathToFileURL(path).href, { waitUntil: 'load' });
  };

  const axe = async (): Promise<unknown> => {
    await page.evaluate(axeSource);
    return page.evaluate(
      'axe.run(document).then(({ violations }) => violations.map(({ id, impact, nodes }) => [id, impact, nodes[0].html.slice(0, 200)].join(" ")))',
    );
  };

  test('a page that is wrong on purpose is caught', async () => {
    await open(BAD, 1000);
    expect(seen).toEqual(expect.arrayContaining(['request: http://127.0.0.1:9/x.png', 'console: 1']));
    expect(await axe()).toEqual(
      expect.arrayContaining([expect.stringContaining('image-alt'), expect.stringContaining('color-contrast')]),
    );
  });

  test.each(Object.keys(PAGES).filter((name) => name !== BAD))(
    '%s: quiet console, no request, accessible, fits a phone',
    async (name) => {
      await open(name, 360);
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(360);
      await open(name, 1000);
      expect(seen).toEqual([]);
      expect(await page.evaluate('document.scripts.length')).toBe(0);
      expect(await axe()).toEqual([]);
    },
  );

  test.each([
    ['quiet-shift', 3],
    ['busy-shift', 5],
    ['nothing-recorded', 2],
    ['hold tags', 3],
  ])('%s prints on about %i pages, A4 and Letter', async (name, pages) => {
    await open(name, 1000);
    for (const format of ['A4', 'Letter'] as const) {
      const pdf = Buffer.from(await page.pdf({ format, preferCSSPageSize: false })).toString('latin1');
      const count = pdf.match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
      expect(Math.abs(count - pages), `${count} pages of ${format}`).toBeLessThanOrEqual(name === 'hold tags' ? 0 : 1);
    }
  });

  test('the words survive pdftotext', async ({ skip }) => {
    await open('busy-shift', 1000);
    const path = join(folder, 'page.pdf');
    writeFileSync(path, await page.pdf({ format: 'A4' }));
    let text = '';
    try {
      text = execFileSync('pdftotext', ['-raw', path, '-'], { encoding: 'utf8' });
    } catch {
      if (process.env.HOLDREG_NEEDS_CHROMIUM === '1') throw new Error('no pdftotext where it must be');
      skip('no pdftotext (apt-get install poppler-utils)');
    }
    const flat = (words: string): string => words.replace(/[\s\u00a0\u2010-\u2014\-☐[\]]+/g, '').toUpperCase();
    const view = SHIFTS['busy-shift'] ?? hostileShift('');
    for (const line of handoverText(view, 4_000)
      .split('\n')
      .filter((line) => line.length > 60 && !line.includes('   ')))
      expect(flat(text)).toContain(flat(line));
  });

  test('a chart alone is well-formed SVG, whatever the station is called', async () => {
    await open('nothing-recorded', 1000);
    const [chart] = chartsOf(SHIFTS['busy-shift'] ?? hostileShift(''));
    if (chart === undefined) throw new Error('no chart');
    for (const words of ['4 grey', ...Object.values(HOSTILE)]) {
      const svg = chartSvg(
        { ...chart, station: words },
        { label: words, register: 'thou', length: 'ft', repeat_mm: 304.8 },
      );
      const parsed = await page.evaluate(
        `(() => { const parsed = new DOMParser().parseFromString(${JSON.stringify(svg)}, 'image/svg+xml'); return [parsed.querySelector('parsererror')?.textContent ?? null, parsed.documentElement.localName, parsed.querySelectorAll('script,style,foreignObject').length]; })()`,
      );
      expect(parsed).toEqual([null, 'svg', 0]);
    }
  });
});
