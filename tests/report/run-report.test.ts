import { readFileSync, writeFileSync } from 'node:fs';
import { linearRegression } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import { knobResponse } from '../../src/report/run/knob-response.js';
import { longestGap } from '../../src/report/run/longest-gap.js';
import { noticedEarlier } from '../../src/report/run/noticed-earlier.js';
import { coveredM, savedByWarning } from '../../src/report/run/saved-by-warning.js';
import { runReportHtml, runReportJson, runReportMarkdown, runReportText } from '../../src/report/run-report.js';
import { runReportSchema } from '../../src/report/run-report-schema.js';
import { chartOf, chartsOf } from './charts.js';
import { busyShift, correctionOf, nothingRecorded, SHIFTS, wholeShift } from './shifts.js';

const [webStory, driftStory] = [busyShift.stories[2], busyShift.stories[1]];
if (webStory === undefined || driftStory === undefined) throw new Error('no stories');

const ramp = (beyondAt: number | null) => {
  const points = [11_300, 12_000, 12_700, 13_300, 13_900].map((web_m, check) => ({
    web_m,
    mm: beyondAt !== null && web_m >= beyondAt ? 0.1 : 0.05,
    check,
    sensor: false,
    withdrawn: false,
    signal: false,
  }));
  return { ...chartOf('4', 'along', 0.15, false), points, limits_mm: { lower: -0.09, upper: 0.09 } };
};

describe('noticed earlier than a three-sigma chart', () => {
  const story = { ...driftStory, found_web_m: 12_000 };

  test('from where it was found to the first reading beyond the limits', () => {
    expect(noticedEarlier({ ...busyShift, stories: [story], charts: [ramp(13_300)] })).toEqual([
      { event: 1, metres: 1_300, atLeast: false },
    ]);
  });

  test('not noticed before the end of the readings: at least so much', () => {
    expect(noticedEarlier({ ...busyShift, stories: [story], charts: [ramp(null)] })).toEqual([
      { event: 1, metres: 1_900, atLeast: true },
    ]);
  });

  test('a reading beyond the limits before it was found: not earlier at all', () => {
    expect(
      noticedEarlier({ ...busyShift, stories: [{ ...story, found_web_m: 13_900 }], charts: [ramp(12_700)] }),
    ).toEqual([{ event: 1, metres: 0, atLeast: false }]);
  });

  test('left out, not counted as zero: no chart, no limits, another cause', () => {
    expect(noticedEarlier({ ...busyShift, stories: [story], charts: [] })).toEqual([]);
    expect(noticedEarlier({ ...busyShift, stories: [story], charts: [{ ...ramp(13_300), limits_mm: null }] })).toEqual(
      [],
    );
    expect(noticedEarlier({ ...busyShift, stories: [webStory], charts: [ramp(13_300)] })).toEqual([]);
  });
});

describe('product saved by early warning, an estimate', () => {
  // The worked example of its docstring: 0.05 0.10 0.16 0.20 0.21 every 1 000 m were it not for the correction.
  const as_read = [0.05, 0.1, 0.0, 0.04, 0.05];
  const points = as_read.map((mm, index) => ({
    web_m: 1_000 * (index + 1),
    mm,
    check: index,
    sensor: false,
    withdrawn: false,
    signal: false,
  }));
  const limits = (size: number) => ({ lower: -size, upper: size });
  const chart = { ...chartOf('4', 'along', 0.15, false), points, limits_mm: limits(0.18) };
  const story = {
    ...driftStory,
    event: { ...driftStory.event, since: { check: 1, web_m: 1_000 } },
    suspects: [],
  };
  const turned = correctionOf({
    at: '',
    web_m: 2_100,
    station: '4',
    move_mm: -0.16,
    result: {
      type: 'correction',
      event: story.event.id,
      took: true,
      station: '4',
      axis: 'along',
      asked_mm: -0.16,
      got_mm: -0.16,
    },
  });
  const view = { ...busyShift, stories: [story], charts: [chart], corrections: [turned] };

  test('the same readings with the correction taken out, turned only when the plain chart signals', () => {
    expect(savedByWarning(view)).toMatchObject([{ event: 1, plain_m: 3_000, held_m: 0, atLeast: false }]);
  });

  test('it would have taken as far until a check was good again as it really did', () => {
    const place = (web_m: number) => ({ check: 1, web_m, roll: '1' });
    const suspects = [
      { type: 'suspect' as const, event: 1, from: place(1_000), to: place(4_000), rolls: ['1'], labels: 1 },
    ];
    // Turned after the check at 2 000 m, good at 4 000 m: 2 000 m. The plain chart signals at 4 000 m: good at 6 000 m, out since 2 000 m.
    expect(savedByWarning({ ...view, stories: [{ ...story, suspects }] })).toMatchObject([
      { event: 1, plain_m: 4_000, held_m: 3_000, atLeast: false },
    ]);
  });

  test('a plain chart that never signals by the end: at least so much', () => {
    expect(savedByWarning({ ...view, charts: [{ ...chart, limits_mm: limits(0.5) }] })).toMatchObject([
      { event: 1, plain_m: 3_000, held_m: 0, atLeast: true },
    ]);
  });

  test('product held for two movements at once is counted once (by hand: 100 to 500 and 300 to 900 are 800 m)', () => {
    expect(coveredM([{ from_m: 300, to_m: 900 }, null, { from_m: 100, to_m: 500 }])).toBe(800);
    expect(coveredM([])).toBe(0);
  });

  test('a plain chart that signals before anything is out would have held nothing either', () => {
    expect(savedByWarning({ ...view, charts: [{ ...chart, limits_mm: limits(0.09) }] })).toMatchObject([
      { event: 1, plain_m: 0, held_m: 0, atLeast: false },
    ]);
  });

  test('left out, not counted as zero: no chart, no limits, another cause', () => {
    expect(savedByWarning({ ...view, charts: [] })).toEqual([]);
    expect(savedByWarning({ ...view, charts: [{ ...chart, limits_mm: null }] })).toEqual([]);
    expect(savedByWarning({ ...view, stories: [webStory] })).toEqual([]);
  });
});

describe('what a knob really did', () => {
  const turn = (asked_mm: number, got_mm: number) =>
    correctionOf({
      at: '',
      web_m: 0,
      station: '4',
      move_mm: asked_mm,
      result: { type: 'correction', event: null, took: true, station: '4', axis: 'along', asked_mm, got_mm },
    });

  test('the worked example of its docstring', () => {
    expect(knobResponse([turn(0.1, 0.08), turn(-0.2, -0.18)])[0]).toMatchObject({
      station: '4',
      axis: 'along',
      turns: 2,
    });
    expect(knobResponse([turn(0.1, 0.08), turn(-0.2, -0.18)])[0]?.gain).toBeCloseTo(0.88, 12);
  });

  test('as a general-purpose library finds it: through zero is the slope of the points with their mirror images (simple-statistics linearRegression)', () => {
    const turns = [
      [0.1, 0.07],
      [-0.05, -0.06],
      [0.25, 0.2],
      [0.15, 0.16],
    ] as const;
    const { m } = linearRegression(
      turns.flatMap(([x, y]) => [
        [x, y],
        [-x, -y],
      ]),
    );
    expect(knobResponse(turns.map(([x, y]) => turn(x, y)))[0]?.gain).toBeCloseTo(m, 12);
  });

  test('turns not read, or taken back, teach nothing', () => {
    expect(
      knobResponse([
        correctionOf({ at: '', web_m: 0, station: '4', move_mm: 0.1 }),
        { ...turn(0.1, 0.05), withdrawn: true },
      ]),
    ).toEqual([]);
  });
});

test('the longest stretch without a measurement', () => {
  expect(
    longestGap([
      ramp(null),
      {
        ...ramp(null),
        points: ramp(null)
          .points.slice(0, 1)
          .map((point) => ({ ...point, web_m: 12_300 })),
      },
    ]),
  ).toEqual({ from_m: 11_300, to_m: 12_000 });
  expect(longestGap([])).toBeNull();
});

describe('the whole report', () => {
  const summary = [
    { station: '2', axis: 'along', n: 20, mean_mm: 0.012, sd_mm: 0.03, cpk: 1.53, state: 'holding' },
    { station: '4', axis: 'along', n: 20, mean_mm: 0.04, sd_mm: 0.05, cpk: null, state: 'holding' },
    { station: '5', axis: 'across', n: 4, mean_mm: 0, sd_mm: 0.02, cpk: null, state: 'holding' },
  ] as const;
  const view = { ...wholeShift, summary, charts: chartsOf(busyShift) };

  test('as kept in golden/run-report.txt (UPDATE_GOLDEN=1 writes it)', () => {
    const path = new URL('golden/run-report.txt', import.meta.url);
    const text = runReportText(view);
    if (process.env.UPDATE_GOLDEN === '1') writeFileSync(path, text);
    expect(text).toBe(readFileSync(path, 'utf8'));
  });

  test('every shift can be reported, with and without charts, in every format', () => {
    for (const shift of [...Object.values(SHIFTS), view, nothingRecorded])
      for (const text of [runReportText(shift), runReportMarkdown(shift), runReportHtml(shift), runReportJson(shift)]) {
        expect(text).toMatch(/run.report/i);
        expect(text).not.toMatch(/NaN|undefined|Infinity|\[object/);
      }
  });

  test('as JSON it is of its schema', () => {
    for (const shift of [...Object.values(SHIFTS), view])
      expect(runReportSchema.safeParse(JSON.parse(runReportJson(shift))).error).toBeUndefined();
  });
});
