import { describe, expect, it } from 'vitest';
import type { RecordBody } from '../../../src/core/record.js';
import { abnormalWords } from '../../../src/core/views/abnormal-words.js';
import { boardView } from '../../../src/core/views/board.js';
import { reading } from '../../support/reading.js';
import { PRESS, tryRun } from '../../support/try-run.js';

/** The sensor sits 2 m before the place where samples are pulled. */
const press = { ...PRESS, sensor_m: 10 };

const sensed = (check: number, web_m: number, along: Readonly<Record<string, number>>): RecordBody => ({
  type: 'check',
  check,
  web_m,
  roll: null,
  pulled_at: null,
  source: 'sensor',
  place: null,
  readings: Object.entries(along).map(([station, along_mm]) => reading(station, { along_mm })),
});

/** Loupe less sensor at 2 plum, five times: the differences of tests/core/sensor-bias.test.ts. */
const MORE = [0.01, 0.02, 0.03, 0.02, 0.02];

const beside = (options: { readonly turnBetween?: boolean; readonly apart_m?: number } = {}) => {
  const run = tryRun({ press });
  let n = 0;
  MORE.forEach((more, k) => {
    const at_m = 1000 * (k + 1);
    n += 1;
    run.put(sensed(n, at_m - 300, { '2': 0.05 }));
    n += 1;
    run.put(sensed(n, at_m, { '2': 0.01, '3': 0 }));
    if (options.turnBetween === true)
      run.put({
        type: 'correction',
        station: '2',
        axis: 'along',
        move_mm: 0.001,
        teeth: null,
        divisions: null,
        web_m: at_m + 1,
      });
    n += 1;
    run.check(n, at_m + 2 + (options.apart_m ?? (options.turnBetween === true ? 20 : 0)), {
      '2': [0.01 + more, null],
    });
  });
  return run;
};

const ofPlum = (run: ReturnType<typeof beside>) =>
  boardView(run.state(), 1_772_000_000_000).stations.find((s) => s.id === '2')?.axes.along.loupe;

describe('a keyed check beside the sensor check of the same web', () => {
  it('their difference is kept station by station, the one nearest on the web, sample lag allowed for', () => {
    const run = beside();
    expect(ofPlum(run)?.mean_mm).toBeCloseTo(0.02, 9);
    expect(ofPlum(run)?.low_mm).toBeCloseTo(0.0112, 4);
    const three = boardView(run.state(), 0).stations.find((s) => s.id === '3');
    expect(three?.axes.along.loupe).toBeUndefined();
    expect(three?.axes.across.loupe).toBeUndefined();
  });

  it('is told to the next shift when they read apart, and never as something to turn', () => {
    const run = beside();
    const words = abnormalWords(run.state(), boardView(run.state(), 1_772_000_000_000));
    expect(words).toContain(
      'The loupe reads otherwise than the sensor: 2 plum along +0.02 (mm, + ahead, + operator side). Read one label with both; turn no knob for it.',
    );
  });

  it('a knob turned between the two, or a sensor check too far off, makes no pair', () => {
    expect(ofPlum(beside({ turnBetween: true }))).toBeUndefined();
    expect(ofPlum(beside({ apart_m: 61 }))).toBeUndefined();
  });

  it('a keyed check taken back takes its difference back', () => {
    const run = beside();
    run.put({ type: 'withdraw', check: 15, entry: null, web_m: null });
    expect(ofPlum(run)?.pairs).toBe(4);
    expect(ofPlum(run)?.mean_mm).toBeNull();
  });
});
