import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chartSvg } from '../../src/report/svg/chart-svg.js';
import { holdsSvg } from '../../src/report/svg/holds-svg.js';
import { overviewSvg } from '../../src/report/svg/overview-svg.js';
import { stripSvg } from '../../src/report/svg/strip-svg.js';
import { thinPoints } from '../../src/report/svg/thin-points.js';
import { chartOf } from './charts.js';
import { busyShift, nothingRecorded, twoOpen } from './shifts.js';

const attribute = (tag: string, name: string): number => Number(tag.match(new RegExp(` ${name}="([^"]*)"`))?.[1]);
const tags = (svg: string, name: string): readonly string[] => svg.match(new RegExp(`<${name} [^>]*>`, 'g')) ?? [];

describe('a chart of one station', () => {
  const chart = chartOf('4', 'along', 0.15, true);
  const svg = chartSvg(chart);

  test('readings lie where straight-line arithmetic says: equal metres are equal pixels, equal millimetres are equal pixels', () => {
    const dots = tags(svg, 'circle').filter((tag) => tag.includes('r="3"'));
    const inside = chart.points.filter((point) => !point.withdrawn && Math.abs(point.mm) <= 0.15);
    expect(dots.length).toBe(inside.length);
    const [a, b] = [dots[0] ?? '', dots[dots.length - 1] ?? ''];
    const [pa, pb] = [inside[0], inside[inside.length - 1]];
    if (pa === undefined || pb === undefined) throw new Error('no points');
    const perMetre = (attribute(b, 'cx') - attribute(a, 'cx')) / (pb.web_m - pa.web_m);
    const perMm = (attribute(b, 'cy') - attribute(a, 'cy')) / (pb.mm - pa.mm);
    for (const [index, dot] of dots.entries()) {
      const point = inside[index];
      if (point === undefined) throw new Error('no point');
      expect(attribute(dot, 'cx')).toBeCloseTo(attribute(a, 'cx') + (point.web_m - pa.web_m) * perMetre, 1);
      expect(attribute(dot, 'cy')).toBeCloseTo(attribute(a, 'cy') + (point.mm - pa.mm) * perMm, 0);
    }
    expect(perMm).toBeLessThan(0);
  });

  test('across: the operator side is at the bottom, as one stands at the press', () => {
    const across = chartSvg(chartOf('4', 'across', 0.15, true));
    const [low, high] = [0.01, 0.17].map(
      (mm) =>
        tags(
          chartSvg({
            ...chartOf('4', 'across', 0.2, false),
            points: [{ web_m: 9_000, mm, check: 1, sensor: false, withdrawn: false, signal: false }],
          }),
          'circle',
        )[0] ?? '',
    );
    expect(attribute(high ?? '', 'cy')).toBeGreaterThan(attribute(low ?? '', 'cy'));
    expect(across).toContain('operator side ↓');
  });

  test('a reading out of tolerance is a cross, one taken back is hollow, both whatever the colour', () => {
    expect(svg.match(/stroke="#a40000" stroke-width="2"/g)?.length).toBe(
      chart.points.filter((point) => !point.withdrawn && Math.abs(point.mm) > 0.15).length,
    );
    expect(tags(svg, 'circle').filter((tag) => tag.includes('fill="none"')).length).toBe(1);
  });

  test('it is described in words for whoever does not see it', () => {
    expect(svg).toMatch(
      /<desc [^>]*>20 readings from 8 200 m to 21 200 m, 1 out of tolerance; the last [-+]?0\.\d\d mm at 21 200 m; 1 corrections\.<\/desc>/,
    );
  });

  test('no readings, no tolerance and one reading are drawn without NaN', () => {
    const none = { ...chart, points: [], trend: [], cone: [], corrections: [], rolls: [], washes: [], began_m: null };
    for (const odd of [
      none,
      { ...none, tolerance_mm: Infinity },
      { ...none, to_m: none.from_m, points: chart.points.slice(0, 1) },
    ]) {
      expect(chartSvg(odd)).not.toMatch(/NaN|Infinity|undefined/);
    }
    expect(chartSvg(none)).toContain('No readings in this stretch.');
  });

  test('in thou and feet the numbers change and the picture does not', () => {
    const thou = chartSvg(chart, { label: '4 grey', register: 'thou', length: 'ft', repeat_mm: 304.8 });
    expect(thou).toContain('4 grey, along, thou');
    expect(thou).toMatch(/>\+[0-9.]+</);
    expect(thou).toContain(' ft</text>');
  });
});

describe('other pictures', () => {
  test('the strip names every station, marks what is out, and draws without readings', () => {
    const svg = stripSvg(twoOpen.board, 'across');
    for (const station of twoOpen.board.stations) expect(svg).toContain(station.label);
    expect(svg.match(/stroke="#a40000"/g)?.length).toBe(1);
    expect(stripSvg(nothingRecorded.board, 'along')).not.toMatch(/NaN|Infinity/);
  });

  test('stations run the way the web runs', () => {
    const names = (svg: string): readonly string[] =>
      [...svg.matchAll(/<text x="([\d.]+)"[^>]*font-size="11"[^>]*>(\d [a-z ]+|die)<\/text>/g)]
        .sort((a, b) => Number(a[1]) - Number(b[1]))
        .map((found) => found[2] ?? '');
    const right = names(stripSvg(busyShift.board, 'along'));
    expect(right[0]).toBe('1 opaque white');
    expect(names(stripSvg({ ...busyShift.board, web_runs: 'right-to-left' }, 'along'))).toEqual([...right].reverse());
  });

  test('an open hold ends in an arrow, a closed one does not', () => {
    const words = { length: 'm', repeat_mm: 304.8 } as const;
    const arrows = (svg: string): number => svg.match(/l14,14l-14,14z/g)?.length ?? 0;
    expect(arrows(holdsSvg(busyShift.holds, { from_m: 8_200, to_m: 21_450 }, words))).toBe(1);
    expect(arrows(holdsSvg(busyShift.holds.slice(0, 1), { from_m: 8_200, to_m: 21_450 }, words))).toBe(0);
  });

  test('the overview has a row a station', () => {
    const svg = overviewSvg(
      'along',
      ['2', '3'].map((id) => ({ label: `${id} ink`, chart: chartOf(id, 'along', 0.15, false) })),
      { length: 'm', repeat_mm: 304.8 },
    );
    expect(svg).toContain('2 ink: 21 readings, 0 out of tolerance; 3 ink: 21 readings, 0 out of tolerance');
  });
});

describe('thinning of very many points', () => {
  const points = fc
    .array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 1, maxLength: 400 })
    .map((values) => values.map((mm, index) => ({ web_m: index, mm })));

  test('keeps the ends, the highest and the lowest, the order, and at most four a slice', () => {
    fc.assert(
      fc.property(points, fc.integer({ min: 1, max: 50 }), (all, columns) => {
        const kept = thinPoints(all, columns);
        expect(kept.length).toBeLessThanOrEqual(Math.max((columns + 1) * 4, Math.min(all.length, columns * 4)));
        expect(kept[0]).toBe(all[0]);
        expect(kept[kept.length - 1]).toBe(all[all.length - 1]);
        expect(Math.max(...kept.map(({ mm }) => mm))).toBe(Math.max(...all.map(({ mm }) => mm)));
        expect(Math.min(...kept.map(({ mm }) => mm))).toBe(Math.min(...all.map(({ mm }) => mm)));
        expect(kept.every((point, index) => index === 0 || point.web_m > (kept[index - 1]?.web_m ?? 0))).toBe(true);
      }),
    );
  });

  test('a million readings give a picture of ordinary size', () => {
    const many = Array.from({ length: 1_000_000 }, (_, index) => ({
      web_m: index / 10,
      mm: Math.sin(index) / 10,
      check: index,
      sensor: true,
      withdrawn: false,
      signal: false,
    }));
    expect(
      chartSvg({ ...chartOf('4', 'along', 0.15, false), from_m: 0, to_m: 100_000, points: many }).length,
    ).toBeLessThan(400_000);
  });
});
