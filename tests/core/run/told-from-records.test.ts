import { describe, expect, it } from 'vitest';
import type { RecordBody } from '../../../src/core/record.js';
import { boardView } from '../../../src/core/views/board.js';
import { runReportMarkdown } from '../../../src/report/run-report.js';
import { stripSvg } from '../../../src/report/svg/strip-svg.js';
import { handoverOf } from '../../support/handover-of.js';
import { keyedCheck, reading } from '../../support/reading.js';
import { PRESS, tryRun } from '../../support/try-run.js';

const good = { '2': 0, '3': 0, '4': 0, D: 0 };
const NOW_MS = 1_772_100_000_000;

describe('product to hold, from records', () => {
  it('seen off without a number holds every axis on which the station was ever read', () => {
    const run = tryRun();
    run.check(1, 1000, good);
    run.put(keyedCheck(2, 2000, [reading('3', { look: 'off' })]));
    const held = run.state().judged.holds.open;
    expect(held.map(({ station, axis }) => [station, axis])).toEqual([
      ['3', 'along'],
      ['3', 'across'],
    ]);
    expect(held.every(({ from, out }) => from.web_m === 1000 && out[0]?.mm === null)).toBe(true);
    // Looked in is no number: it ends nothing.
    run.put(keyedCheck(3, 3000, [reading('3', { look: 'in' })]));
    expect(run.state().judged.holds.open).toHaveLength(2);
    run.check(4, 4000, good);
    expect(run.state().judged.holds.open).toHaveLength(0);
  });

  it('a pair apart is held until both were read and are together: one of the two alone says nothing', () => {
    const run = tryRun({ job: { pairs: [{ stations: ['2', '3'], along_mm: 0.12 }] } });
    run.check(1, 1000, good);
    run.check(2, 2000, { ...good, '2': 0.08, '3': -0.08 });
    const open = (): readonly string[] =>
      run.state().judged.holds.open.map(({ station, axis }) => `${station} ${axis}`);
    expect(open().length).toBeGreaterThan(0);
    const apart = open();
    run.check(3, 3000, { '2': 0, '4': 0, D: 0 });
    expect(open()).toEqual(apart);
    run.check(4, 4000, { '3': 0, '4': 0, D: 0 });
    expect(open()).toEqual(apart);
    run.check(5, 5000, good);
    expect(open()).toEqual([]);
  });
});

describe('advice, from records', () => {
  it('is not given again for samples printed before the knob was turned', () => {
    const run = tryRun();
    for (let n = 1; n <= 6; n += 1) run.check(n, 1000 * n, good);
    let advised = 0;
    let n = 7;
    for (; advised === 0 && n < 20; n += 1)
      advised = run.check(n, 1000 * n, { ...good, '3': 0.3 }).filter(({ type }) => type === 'advice').length;
    expect(advised).toBeGreaterThan(0);
    const turned_m = 1000 * n;
    run.put({
      type: 'correction',
      station: '3',
      axis: 'along',
      move_mm: -0.3,
      teeth: null,
      divisions: -15,
      web_m: turned_m,
    });
    // Station 3 prints 8.1 m before the sample place: what is pulled up to there carries the old register.
    const before = [2, 4, 6].flatMap((m, k) => [...run.check(n + k, turned_m + m, { ...good, '3': 0.3 })]);
    expect(before.filter(({ type }) => type === 'advice')).toEqual([]);
    const after = run.check(n + 3, turned_m + 200, good);
    expect(after.filter(({ type }) => type === 'advice')).toEqual([]);
  });
});

describe('loupe beside sensor, from records', () => {
  it('the web of a keyed sample passed the sensor when the counter was less by the way between them, not more', () => {
    // The sensor sits 100 m before the sample place: the sample pulled at 5 200 m passed it at 5 100 m.
    const run = tryRun({ press: { ...PRESS, sample_m: 120, sensor_m: 20 } });
    const sensed = (check: number, web_m: number, along_mm: number): RecordBody => ({
      ...keyedCheck(check, web_m, [reading('2', { along_mm })]),
      source: 'sensor',
    });
    run.put(sensed(1, 5_100, 0.01));
    run.put(sensed(2, 5_190, 0.06));
    run.check(3, 5_200, { '2': [0.03, null] });
    const kept = run.state().judged.loupe['2']?.along;
    expect(kept?.n).toBe(1);
    expect(kept?.mean).toBeCloseTo(0.03 - 0.01, 9);
  });
});

describe('reports, from records', () => {
  const WAVE = [0.03, -0.03, 0.02, -0.02, 0.01, -0.01];
  const AT_2 = Array.from({ length: 30 }, (_, i) => 0.02 + (WAVE[(i + 1) % WAVE.length] ?? 0));
  const offCentre = () =>
    handoverOf((run) => {
      AT_2.forEach((mm, i) => {
        run.check(i + 1, 1000 * (i + 1), { ...good, '2': mm, '3': [0, 0.1] });
      });
    });

  it('what is printed as Cpk is the room to the nearer limit, not the whole tolerance', () => {
    const { view } = offCentre();
    // Mean moving range over d2 = 1.128 (ASTM E2587 control chart factors, n = 2); Cpk = (T - |mean|) / 3 sigma, Cp = T / 3 sigma.
    const ranges = AT_2.slice(1).map((mm, i) => Math.abs(mm - (AT_2[i] ?? Number.NaN)));
    const mean = AT_2.reduce((sum, mm) => sum + mm, 0) / AT_2.length;
    const sigma = ranges.reduce((sum, mm) => sum + mm, 0) / ranges.length / 1.128;
    const cpk = (0.15 - Math.abs(mean)) / (3 * sigma);
    expect(mean).toBeGreaterThan(0.015);
    const printed = /\| 2 [^|]*\| along +\|[^|]*\|[^|]*\|[^|]*\| ([\d.]+) \(/.exec(runReportMarkdown(view))?.[1];
    expect(Number(printed)).toBeCloseTo(cpk, 2);
    expect(Math.abs(Number(printed) - 0.15 / (3 * sigma))).toBeGreaterThan(0.1);
  });

  it('across, the strip of the handover has the operator side at the bottom, as its words say', () => {
    const { state } = offCentre();
    const svg = stripSvg(boardView(state, NOW_MS), 'across');
    const rows = [...svg.matchAll(/<text[^>]* y="([\d.]+)"[^>]*>([^<]*)<\/text>/g)].map(([, y, words]) => ({
      y: Number(y),
      words: words ?? '',
    }));
    const at = (pattern: RegExp): number => rows.find(({ words }) => pattern.test(words))?.y ?? Number.NaN;
    const mark = at(/^\+0\.10/);
    expect(Math.abs(mark - at(/operator side/))).toBeLessThan(Math.abs(mark - at(/gear side/)));
  });
});
