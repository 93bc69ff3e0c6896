import { describe, expect, test } from 'vitest';
import { type RunDigest, runDigest, runDigestSchema } from '../../src/core/views/run-digest.js';
import { medianLife } from '../../src/report/history/median-life.js';
import { pressHistory } from '../../src/report/history/press-history.js';
import { historyHtml, historyJson, historyMarkdown, historyText } from '../../src/report/history-report.js';
import { historySchema } from '../../src/report/history-schema.js';
import { busyShift, SHIFTS, wholeShift } from './shifts.js';

const moved = (station: string, count: number, shape: 'step' | 'ramp' = 'step'): RunDigest['movements'] =>
  Array.from({ length: count }, () => ({
    cause: 'station',
    stations: [station],
    axis: 'along',
    shape,
    out: false,
    since_m: 0,
  }));

const digest = (given: Partial<RunDigest>): RunDigest => ({
  format: 'digest/1',
  run: 'r',
  press: 'Line B',
  job: 'j',
  began_at: '2026-05-12T04:00:00Z',
  made_m: 10_000,
  checks: 10,
  held_m: 0,
  stations: ['1', '2', '3', '4'],
  movements: [],
  turns: [],
  scatter_mm: { along: 0.04, across: 0.03 },
  washed: [],
  lives: [],
  ...given,
});

describe('digest of a run', () => {
  test('of every shift is of its schema, and says what the view says', () => {
    for (const view of Object.values(SHIFTS)) expect(runDigestSchema.safeParse(runDigest(view)).error).toBeUndefined();
    const busy = runDigest(busyShift);
    expect(busy.movements.map(({ cause, stations }) => [cause, stations])).toEqual([
      ['reference', ['1']],
      ['station', ['4']],
      ['web', []],
    ]);
    // The turn of a station that drifts: what went on drifting until the sample would be taken for the knob.
    expect(busy.turns).toEqual([]);
    const still = {
      ...busyShift,
      stories: busyShift.stories.map((s) => ({ ...s, event: { ...s.event, shape: 'step' as const } })),
    };
    expect(runDigest(still).turns).toEqual([{ station: '4', axis: 'along', asked_mm: -0.15, got_mm: -0.14 }]);
    expect(busy.held_m).toBe(1_550 + 1_150);
  });
});

describe('history of a press', () => {
  test('which way a station moves, how often, how far and in which runs', () => {
    const of = (
      run: string,
      axis: 'along' | 'across',
      mm: number,
    ): RunDigest['movements'][number] & { readonly run: string } => ({
      ...(moved('3', 1)[0] as RunDigest['movements'][number]),
      axis,
      mm,
      run,
    });
    const runs = [of('a', 'along', 0.2), of('b', 'along', 0.1), of('c', 'along', -0.3), of('d', 'across', -0.1)].map(
      ({ run, ...movement }, i) => digest({ run, began_at: `2026-05-1${i}T04:00:00Z`, movements: [movement] }),
    );
    const three = pressHistory(runs)[0]?.stations.find(({ station }) => station === '3');
    // 2 in 40 000 m are 0.5 for each 10 000 m; (0.2 + 0.1) / 2 = 0.15 mm.
    expect(three?.ways.find(({ way }) => way === 'ahead')).toMatchObject({
      axis: 'along',
      movements: 2,
      per_10_km: 0.5,
      runs: ['a', 'b'],
    });
    expect(three?.ways.find(({ way }) => way === 'ahead')?.mean_mm).toBeCloseTo(0.15, 12);
    expect(three?.ways.map(({ way }) => way)).toEqual(['ahead', 'behind', 'gear side']);
    expect(historyText(runs)).toMatch(/3 +along +ahead +2 +0\.50 +0\.15 +a, b/);
    expect(historySchema.parse(JSON.parse(historyJson(runs))).presses[0]?.runs).toBe(4);
  });

  test('movements for each 10 000 m, and how often against the others (by hand)', () => {
    const [press] = pressHistory([
      digest({ made_m: 20_000, movements: [...moved('4', 4, 'ramp'), ...moved('2', 1)] }),
      digest({ made_m: 10_000, movements: [...moved('4', 2), ...moved('3', 1)] }),
    ]);
    const four = press?.stations.find(({ station }) => station === '4');
    expect(four?.per_10_km).toBeCloseTo(2, 12);
    // Others: 0, 1/3, 1/3 for each 10 000 m, mean 2/9; 2 ÷ 2/9 = 9.
    expect(four?.times_others).toBeCloseTo(9, 12);
    expect(four?.usual).toBe('ramp');
    expect(press?.stations.find(({ station }) => station === '2')?.times_others).toBeNull();
  });

  test('a station that was not on every run is rated on the runs it was on', () => {
    const [press] = pressHistory([digest({ movements: moved('4', 3) }), digest({ stations: ['1', '2', '3'] })]);
    expect(press?.stations.find(({ station }) => station === '4')?.per_10_km).toBeCloseTo(3, 12);
  });

  test('months in order; a month in which nothing was made has no rate', () => {
    const [press] = pressHistory([
      digest({ began_at: '2026-06-01T00:00:00Z', movements: moved('4', 1) }),
      digest({ began_at: '2026-05-01T00:00:00Z', made_m: 40_000, movements: moved('4', 2) }),
      digest({ began_at: '2026-04-01T00:00:00Z', made_m: 0 }),
    ]);
    expect(press?.months).toEqual([
      { month: '2026-05', made_m: 40_000, movements: 2, per_10_km: 0.5 },
      { month: '2026-06', made_m: 10_000, movements: 1, per_10_km: 1 },
    ]);
  });

  test('presses are kept apart, runs in any order give the same', () => {
    const digests = [
      digest({ press: 'Line C' }),
      digest({ movements: moved('2', 2) }),
      digest({ run: 's', movements: moved('3', 1) }),
    ];
    expect(pressHistory(digests).map(({ press }) => press)).toEqual(['Line B', 'Line C']);
    expect(pressHistory([...digests].reverse())).toEqual(pressHistory(digests));
  });

  test('knobs learned over all runs', () => {
    const turns = [
      { station: '4', axis: 'along', asked_mm: 0.1, got_mm: 0.08 },
      { station: '4', axis: 'along', asked_mm: -0.2, got_mm: -0.18 },
    ] as const;
    const [press] = pressHistory(turns.map((turn) => digest({ turns: [turn] })));
    expect(press?.stations.find(({ station }) => station === '4')?.gain[0]).toMatchObject({ axis: 'along', turns: 2 });
    expect(press?.stations.find(({ station }) => station === '4')?.gain[0]?.gain).toBeCloseTo(0.88, 12);
  });
});

describe('what only many runs can tell', () => {
  test('plate life: product-limit median, against the textbook example (Freireich et al. 1963, 6-MP group, as in Kleinbaum and Klein, Survival Analysis, ch. 2: median 23; numbers from memory)', () => {
    const ended = [6, 6, 6, 7, 10, 13, 16, 22, 23].map((m) => ({ from_m: m, to_m: m }));
    const still = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35].map((m) => ({ from_m: m, to_m: null }));
    expect(medianLife([...still, ...ended])).toBe(23);
    expect(medianLife([...still, ...ended.slice(0, 8)])).toBeNull();
    expect(medianLife([])).toBeNull();
    expect(medianLife([{ from_m: 8_000, to_m: 10_000 }])).toBe(9_000);
  });

  test('plate life of a station, over all runs', () => {
    const lives = [8_000, 12_000, 15_000].map((m) => ({ station: '5', from_m: m, to_m: m + 1_000 }));
    const [press] = pressHistory(lives.map((life) => digest({ lives: [life] })));
    expect(press?.stations.find(({ station }) => station === '5')?.plate_life_m).toBe(12_500);
    expect(press?.stations.find(({ station }) => station === '4')?.plate_life_m).toBeNull();
  });

  test('slack of a knob: 0.10 turned moves 0.10, but 0.06 less whenever the direction is reversed', () => {
    const turns = Array.from({ length: 24 }, (_, index) => {
      const way = Math.floor(index / 2) % 2 === 0 ? 1 : -1;
      const reversed = index > 0 && index % 2 === 0;
      return { station: '4', axis: 'along' as const, asked_mm: 0.2 * way, got_mm: (0.2 - (reversed ? 0.06 : 0)) * way };
    });
    const [press] = pressHistory(
      turns.map((turn, index) =>
        digest({ run: String(index).padStart(2, '0'), turns: [turn], scatter_mm: { along: 0.01, across: 0.01 } }),
      ),
    );
    const knob = press?.stations.find(({ station }) => station === '4')?.gain[0];
    expect(knob?.backlash_mm).toBeGreaterThan(0.045);
    expect(knob?.backlash_mm).toBeLessThan(0.075);
  });

  test('usual cause of the press', () => {
    const web = { ...(moved('4', 1)[0] as RunDigest['movements'][number]), cause: 'web' as const, stations: [] };
    const [press] = pressHistory([digest({ movements: [web, web, ...moved('4', 1)] })]);
    expect(press?.causes).toEqual({ station: 1, reference: 0, web: 2, several: 0 });
    expect(historyText([digest({ movements: [web, web, ...moved('4', 1)] })]).replace(/\s+/g, ' ')).toContain(
      'Usual cause: the web (2 of 3).',
    );
  });
});

test('in words, and as JSON', () => {
  const digests = [
    digest({ movements: [...moved('4', 6, 'ramp'), ...moved('2', 1), ...moved('3', 2), ...moved('1', 3)] }),
  ];
  const text = historyText(digests);
  expect(text).toContain('Station 4 moves 3.0 times as often as the others (6 movements).');
  expect(text).not.toMatch(/NaN|undefined/);
  expect(historyMarkdown(digests)).toContain('## Line B');
  expect(JSON.parse(historyJson(digests))).toMatchObject({
    format: 'history/1',
    presses: [{ press: 'Line B', runs: 1 }],
  });
  expect(historySchema.safeParse(JSON.parse(historyJson(digests))).success).toBe(true);
  expect(historyHtml(digests)).toContain('<h2 id="press-1-h">Line B</h2>');
  expect(historyText([])).toContain('No run has been recorded yet.');
});

test('a plate that was dirty and washed since makes its run one with a dirty plate; an older index knows only the end of the run', () => {
  const digest = runDigest(wholeShift);
  const runs = (change: Partial<RunDigest>): number =>
    pressHistory([{ ...digest, washed: [], ...change }])[0]?.stations.find(({ station }) => station === '3')
      ?.dirty_runs ?? 0;
  expect(runs({ dirty: ['3'] })).toBe(1);
  expect(runs({ dirty: [] })).toBe(0);
  expect(runs({ washed: [{ station: '3', flag: 'dirty', last_wash_m: null }] })).toBe(1);
});
