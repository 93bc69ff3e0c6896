import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkOfGathered } from '../../src/core/check-of-gathered.js';
import {
  type GatherConfig,
  type Gathered,
  type GatherInput,
  gatherConfig,
  sensorGather,
} from '../../src/core/sensor-gather.js';
import type { SensorReading } from '../../src/core/sensor-reading.js';
import { addToTally, sayTally, tallyLength } from '../../src/core/sensor-tally.js';

const published = JSON.parse(readFileSync(new URL('./spc/published.json', import.meta.url), 'utf8')) as readonly {
  readonly id: string;
  readonly inputs: { readonly values: readonly number[] };
  readonly expected: { readonly mean: number; readonly sd: number; readonly lag1: number };
}[];

const tally = (values: readonly number[], places = 1, placeOf = (i: number): number => i % places) => {
  const list = Array.from({ length: tallyLength(places) }, () => 0);
  for (const [i, v] of values.entries()) addToTally(list, { base: 0, places }, v, placeOf(i));
  return sayTally(list, { base: 0, places });
};

describe('what is told of the repeats of a window', () => {
  // NIST StRD univariate summary statistics, certified values of Lew, Lottery and Michelso.
  it.each(['strd-lew', 'strd-lottery', 'strd-michelso'])('%s: mean, spread and lag-1 correlation', (id) => {
    const set = published.find((p) => p.id === id);
    if (set === undefined) throw new Error(`no ${id}`);
    const said = tally(set.inputs.values);
    expect(said.mean).toBeCloseTo(set.expected.mean, 10);
    expect((said.spread ?? 0) / set.expected.sd).toBeCloseTo(1, 10);
    expect(said.lag1).toBeCloseTo(set.expected.lag1, 9);
  });
  it('the example of the docstring', () => {
    const said = tally([0.01, 0.02, 0.03, 0.04]);
    expect(said.mean).toBeCloseTo(0.025, 12);
    expect(said.spread).toBeCloseTo(0.01291, 5);
    expect([said.min, said.max, said.lag1]).toEqual([0.01, 0.04, null]);
  });
  it('too few values are said to be too few', () => {
    expect(tally([])).toEqual({
      n: 0,
      mean: null,
      spread: null,
      min: null,
      max: null,
      lag1: null,
      se: null,
      run_out: null,
    });
    expect(tally([3])).toMatchObject({ n: 1, mean: 3, spread: null, se: null });
    expect(tally([3, 3, 3, 3, 3, 3, 3, 3])).toMatchObject({ spread: 0, lag1: null, se: 0 });
  });
  it('finds the run-out put in, leaves it out of the spread, and a mark missed at one place does not tilt the mean', () => {
    // e = c sin(2 pi x / P + phi), once a repeat: c = 0.02, four marks a repeat, with a small known ripple as the scatter.
    const at = (i: number): number =>
      0.05 + 0.02 * Math.sin((2 * Math.PI * (i % 4)) / 4 + 0.3) + 0.001 * Math.sin(i * 1.7);
    const all = Array.from({ length: 400 }, (_, i) => at(i));
    const said = tally(all, 4);
    expect(said.run_out).toBeCloseTo(0.02, 3);
    expect(said.mean).toBeCloseTo(0.05, 3);
    expect(said.spread).toBeLessThan(0.0012);
    expect(tally(all).spread).toBeGreaterThan(0.01);
    const kept = all.map((v, i) => [v, i % 4] as const).filter(([, place], i) => place !== 1 || i < 40);
    const holes = tally(
      kept.map(([v]) => v),
      4,
      (i) => kept[i]?.[1] ?? 0,
    );
    expect(holes.mean).toBeCloseTo(0.05, 3);
  });
  it('says no run-out where there is only scatter', () => {
    expect(
      tally(
        Array.from({ length: 400 }, (_, i) => 0.01 * Math.sin(i * i * 0.37)),
        4,
      ).run_out,
    ).toBe(null);
  });
  it('the mean of values that hang together is known less well', () => {
    // An autoregression of first order with r = 0.8 from a fixed linear congruential stream.
    let seed = 12345;
    const next = (): number => {
      seed = (Math.imul(seed, 1103515245) + 12345) >>> 0;
      return seed / 2 ** 32 - 0.5;
    };
    const loose = Array.from({ length: 5000 }, next);
    let last = 0;
    const tied = loose.map((e) => {
      last = 0.8 * last + e;
      return last;
    });
    const a = tally(loose);
    const b = tally(tied);
    expect((a.se ?? 0) / ((a.spread ?? 1) / Math.sqrt(5000))).toBeCloseTo(1, 1);
    expect((b.se ?? 0) / ((b.spread ?? 1) / Math.sqrt(5000))).toBeCloseTo(3, 0);
  });
});

const reading = (
  station: string,
  along: number | null,
  across: number | null = along,
  strength: number | null = 0.8,
): SensorReading => ({
  station,
  along_mm: along,
  across_mm: across,
  strength,
  width_mm: null,
});

const run = (
  config: Partial<GatherConfig>,
  inputs: readonly GatherInput[],
): { readonly gathered: readonly Gathered[]; readonly rest: Gathered | null } => {
  const full = { ...gatherConfig({}, null), ...config };
  let state = sensorGather.initial(full);
  const gathered: Gathered[] = [];
  for (const input of inputs) {
    const step = sensorGather.step(full, state, input);
    // What a restart would read back from a file is as good as the state itself.
    state = JSON.parse(JSON.stringify(step.state));
    gathered.push(...step.gathered);
  }
  return { gathered, rest: sensorGather.flush(full, state) };
};

/** One repeat every half metre and 300 ms; two stations. */
const repeats = (n: number, from = 0): GatherInput[] =>
  Array.from({ length: n }, (_, i) => ({
    readings: [reading('2', 0.01 * ((i % 3) + 1)), reading('3', i % 5 === 0 ? null : -0.02)],
    at_ms: 1_000_000 + (from + i) * 300,
    web_m: (from + i) * 0.5,
  }));

describe('repeats become checks', () => {
  it('by count: every ten repeats, with n, mean, spread and the share of bad reads', () => {
    const { gathered, rest } = run({ by: 'repeats', size: 10 }, repeats(25));
    expect(gathered.length).toBe(2);
    expect(gathered[0]).toMatchObject({ from_web_m: 0, web_m: 4.5 });
    expect(gathered[0]?.stations[1]).toMatchObject({ station: '3', seen: 10, good: 8, share_bad: 0.2 });
    expect(gathered[0]?.stations[0]?.along.mean).toBeCloseTo((4 * 0.01 + 3 * 0.02 + 3 * 0.03) / 10, 12);
    expect(rest?.stations[0]?.seen).toBe(5);
  });
  it('by metres; where the counter stands still because no speed is known, by the repeats that must have passed', () => {
    const known = run({ by: 'metres', size: 5 }, repeats(25));
    expect(known.gathered.map((g) => g.web_m - g.from_web_m)).toEqual([5, 5]);
    const still = repeats(25).map((input) => ({ ...input, web_m: 0 }));
    expect(run({ by: 'metres', size: 5 }, still).gathered).toEqual([]);
    const { gathered } = run({ by: 'metres', size: 5, repeat_m: 0.5 }, still);
    expect(gathered.map((g) => g.stations[0]?.seen)).toEqual([10, 10]);
  });

  it('every station has all its repeats in a window, also when each comes in a line of its own', () => {
    const lines = repeats(30).flatMap((i) => i.readings.map((r) => ({ ...i, readings: [r] })));
    const { gathered } = run({ size: 10 }, lines);
    expect(gathered.map((g) => g.stations.map((s) => `${s.station}:${s.seen}`))).toEqual([
      ['2:10', '3:10'],
      ['2:10', '3:10'],
      ['2:10', '3:10'],
    ]);
  });
  it('by metres and by seconds', () => {
    expect(run({ by: 'metres', size: 5 }, repeats(25)).gathered.map((g) => [g.from_web_m, g.web_m])).toEqual([
      [0, 5],
      [5.5, 10.5],
    ]);
    expect(run({ by: 'seconds', size: 3 }, repeats(25)).gathered.map((g) => g.stations[0]?.seen)).toEqual([11, 11]);
  });
  it('a pause, a clock set back and a counter set back end the window; nothing is lost or mixed', () => {
    const later = repeats(5, 1000);
    const before = repeats(5);
    const paused = run({ size: 8 }, [...before, ...later]);
    expect(paused.gathered.map((g) => g.stations[0]?.seen)).toEqual([5]);
    expect(paused.rest?.stations[0]?.seen).toBe(5);
    const back = run({ size: 8 }, [
      ...later.map((i) => ({ ...i, web_m: i.web_m - 490 })),
      ...before.map((i) => ({ ...i, web_m: i.web_m + 600 })),
    ]);
    expect(back.gathered.map((g) => g.stations[0]?.seen)).toEqual([5]);
    const counter = run({ size: 8 }, [...before, ...before.map((i) => ({ ...i, at_ms: i.at_ms + 2000 }))]);
    expect(counter.gathered.map((g) => g.stations[0]?.seen)).toEqual([5]);
  });
  it('no window spans where a knob was turned, nor where its print comes under the sensor', () => {
    const { gathered, rest } = run(
      { size: 50 },
      repeats(40).map((i) => ({ ...i, breaks_m: [4.2, 13.8] })),
    );
    expect(gathered.map((g) => [g.from_web_m, g.web_m])).toEqual([
      [0, 4],
      [4.5, 13.5],
    ]);
    expect(rest).toMatchObject({ from_web_m: 14, web_m: 19.5 });
  });
  it('too few good readings: the station stands as not read, never as 0', () => {
    const inputs = Array.from({ length: 11 }, (_, i) => ({
      readings: [reading('2', 0.01), reading('4', i < 3 ? 0.5 : null, null)],
      at_ms: i,
      web_m: i,
    }));
    const { gathered } = run({ size: 10, fewest_good: 5 }, inputs);
    const check = checkOfGathered(gathered[0] ?? { from_web_m: 0, web_m: 0, from_ms: 0, at_ms: 0, stations: [] }, {
      check: 7,
      roll: '3',
      place: null,
    });
    expect(check).toMatchObject({
      type: 'check',
      check: 7,
      roll: '3',
      source: 'sensor',
      web_m: 9,
      pulled_at: '1970-01-01T00:00:00.009Z',
    });
    expect(check?.readings[0]).toMatchObject({
      station: '2',
      along_mm: 0.01,
      across_mm: 0.01,
      look: null,
      n: 10,
      spread_mm: { along: 0, across: 0 },
      strength: 0.8,
    });
    expect(check?.readings[1]).toMatchObject({
      station: '4',
      along_mm: null,
      across_mm: null,
      n: 3,
      note: '7 of 10 repeats without a usable mark',
    });
  });
  it('run-out is noted with the reading and does not move its mean', () => {
    const inputs = Array.from({ length: 200 }, (_, i) => ({
      readings: [reading('2', 0.05 + 0.03 * Math.sin((2 * Math.PI * (i % 4)) / 4) + 0.001 * Math.sin(i * 1.7), 0)],
      at_ms: i,
      web_m: i,
    }));
    const { rest } = run({ size: 50, marks_per_repeat: 4 }, inputs);
    const check = rest === null ? null : checkOfGathered(rest, { check: 1, roll: null, place: null });
    expect(check?.readings[0]?.along_mm).toBeCloseTo(0.05, 3);
    expect(check?.readings[0]?.note).toBe('run-out 0.030 mm along once a repeat');
  });
  it('stations that are not in the job are left out', () => {
    const { gathered } = run({ size: 5, stations: ['2'] }, repeats(6));
    expect(gathered[0]?.stations.map((s) => s.station)).toEqual(['2']);
  });
  it('a window in which no station could be read makes no check', () => {
    const { gathered } = run(
      { size: 5 },
      Array.from({ length: 6 }, (_, i) => ({ readings: [reading('2', null)], at_ms: i, web_m: i })),
    );
    expect(
      gathered.map((g) => [g.stations[0]?.share_bad, checkOfGathered(g, { check: 1, roll: null, place: null })]),
    ).toEqual([[1, null]]);
  });
  it('nothing at all gives nothing', () => {
    expect(run({}, [{ readings: [], at_ms: 0, web_m: 0 }])).toEqual({ gathered: [], rest: null });
  });
});
