import { describe, expect, it } from 'vitest';
import { chartView } from '../../../src/core/views/chart.js';
import { drawChart } from '../../../src/ui/draw/chart.js';
import { plainText } from '../../../src/ui/draw/row.js';
import { tryRun } from '../../support/try-run.js';
import { look } from '../../ui/frame-of.js';

const UNITS = { register: 'mm', length: 'm', repeat_mm: 304.8 } as const;

describe('the chart of a station whose aim is not zero, from records', () => {
  it('takes the aim off once: what stands at its aim lies on the middle line', () => {
    const run = tryRun({
      job: {
        stations: [
          { id: '1', ink: 'opaque white' },
          { id: '2', ink: 'plum', aim: { along_mm: 0.3, across_mm: 0 } },
          { id: '3', ink: 'leaf' },
          { id: '4', ink: 'grey' },
          { id: 'D' },
        ],
      },
    });
    for (let n = 1; n <= 5; n++) run.check(n, n * 1000, { '2': 0.3, '3': 0, '4': 0, D: 0 });
    const view = chartView(run.state(), '2', 'along', null);
    expect(view.points.map((p) => p.mm)).toEqual([0, 0, 0, 0, 0].map((v) => expect.closeTo(v, 9)));
    const rows = drawChart(
      { ...view, cone: [], trend: [] },
      { width: 60, rows: 10, gutter: 8 },
      UNITS,
      'web',
      look,
    ).map(plainText);
    const middle = rows.findIndex((line) => line.includes(' 0.00 '));
    expect(middle).toBeGreaterThan(1);
    expect(rows[middle]).toContain('•');
    expect(rows.filter((line) => /[•◉]/.test(line))).toEqual([rows[middle]]);
    expect(rows.join('\n')).toMatch(/\+0\.15/);
  });
});

describe('the chart of the whole run', () => {
  it('begins at OK to run and scales to it, not to the millimetres of make-ready', () => {
    const run = tryRun({ make_ready: true });
    run.check(1, 9_300, { '2': 6, '3': 0, '4': 0, D: 0 });
    run.check(2, 9_390, { '2': 0, '3': 0, '4': 0, D: 0 });
    run.put({ type: 'ok', web_m: 9_400, zero_m: 9_400, passed_by: 'MK', check: 2, hold_to: 'aim' });
    for (let n = 3; n <= 6; n++) run.check(n, (n - 2) * 1000, { '2': 0.02, '3': 0, '4': 0, D: 0 });
    const view = chartView(run.state(), '2', 'along', null);
    expect(view.from_m).toBe(0);
    expect(Math.max(...view.points.map((p) => Math.abs(p.mm)))).toBeLessThan(0.1);
    // Looked at earlier on purpose, make-ready is there.
    expect(chartView(run.state(), '2', 'along', { from_m: -200, to_m: 100 }).points.map((p) => p.mm)).toContain(6);
  });
});
