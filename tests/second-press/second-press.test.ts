import { describe, expect, it } from 'vitest';
import { bringIn, playBringIn } from './bring-in.js';
import type { CrewFactory, Desk, Hidden } from './crew.js';
import { late, sevenInTen } from './obeying.js';
import { makeLayout, playRun, type Scenario, type Score, scenario } from './press.js';
import { allAtOnce } from './rivals/bring-in-hands.js';
import { experienced, halfTolerance, never, oracle, turnEverything } from './rivals/index.js';

/** No scatter, no loupe error, exact knobs and hands. */
const exact: Partial<Scenario> = {
  labelMm: [0, 0],
  eccentricMm: [0, 0],
  loupeMm: [0, 0],
  misread: 0,
  playMm: [0, 0],
  gainSd: 0,
  oneTooMany: 0,
  wrongWay: 0,
};

/** A crew that does one thing at the first sample and notes all it reads at every sample. */
const doing = (act: (desk: Desk, hidden: Hidden) => void, notes: Record<string, number | null>[]): CrewFactory => {
  return (layout, hidden) => ({
    name: 'doing',
    ok: () => {},
    sample: (desk) => {
      const all: Record<string, number | null> = { counter: desk.pulledAtM };
      for (const { id } of layout.stations) {
        const { along, across } = desk.read(id);
        all[`${id}/along`] = along;
        all[`${id}/across`] = across;
      }
      notes.push(all);
      if (notes.length === 1) act(desk, hidden);
    },
  });
};

const mean = (xs: readonly number[]): number => xs.reduce((a, b) => a + b, 0) / xs.length;
const outShare = (scores: readonly Score[]): number => mean(scores.map((s) => s.metresOut / s.metres));
const play = (name: Parameters<typeof scenario>[0], crew: CrewFactory, runs: number): Score[] =>
  [5, 8].flatMap((n) => Array.from({ length: runs }, (_, i) => playRun(scenario(name), n, 500 + i, crew)));

describe('the second press', () => {
  it('meets every crew with the same press history for the same seed', () => {
    const truth = (crew: CrewFactory): unknown => playRun(scenario('shop'), 8, 7, crew).trace.map((t) => t.truth);
    expect(truth(never)).toEqual(truth(never));
    const reader: CrewFactory = () => ({ name: 'reader', ok: () => {}, sample: (desk) => void desk.read('3') });
    expect(truth(reader)).toEqual(truth(never));
    expect(playRun(scenario('shop'), 8, 7, experienced)).toEqual(playRun(scenario('shop'), 8, 7, experienced));
    expect(playRun(scenario('shop'), 8, 8, never).trace).not.toEqual(playRun(scenario('shop'), 8, 7, never).trace);
  });

  it('moves nothing where nothing happens', () => {
    const score = playRun(scenario('nothing'), 12, 3, never);
    expect(score.trace).toHaveLength(17);
    for (const t of score.trace) for (const mm of Object.values(t.truth)) expect(mm).toBe(0);
    expect(score.metresOut).toBe(0);
  });

  it('moves a station ahead and toward the operator for a positive turn, the others against the reference', () => {
    const notes: Record<string, number | null>[] = [];
    const act = (desk: Desk): void => {
      expect(desk.turn('3', 'along', 5)).toBe(5);
      desk.turn('4', 'across', 3);
      expect(desk.turn('D', 'across', 3)).toBe(0);
      desk.turn('1', 'along', -2);
    };
    const score = playRun(scenario('nothing', { ...exact, rolls: 2 }), 5, 1, doing(act, notes));
    const [first, second] = notes;
    expect(first).toMatchObject({ '3/along': 0, '4/across': 0, 'D/along': 0 });
    expect(second).toMatchObject({
      '2/along': 0.04,
      '3/along': 0.14,
      '4/across': 0.06,
      'D/across': 0,
      'D/along': 0.04,
    });
    expect(score.touches).toBe(3);
    expect(score.worseTurns).toBe(3);
  });

  it('loses the play of a knob on reversal only', () => {
    const notes: Record<string, number | null>[] = [];
    const act = (desk: Desk): void => {
      for (const divisions of [10, 10, -10]) desk.turn('2', 'along', divisions);
    };
    const over = { ...exact, playMm: [0.03, 0.03] as const, rolls: 2 };
    const { trace } = playRun(scenario('nothing', over), 5, 1, doing(act, notes));
    const moved = trace[1]?.turns.map((t) => Math.round(t.movedMm * 1000) / 1000);
    expect([0.2, 0.17]).toContain(moved?.[0]);
    expect(moved?.slice(1)).toEqual([0.2, -0.17]);
  });

  it('shows a turn on the sample only once its web has come to the sample place', () => {
    const seen: { counter: number; mm: number | null }[] = [];
    let turnedAt = 0;
    const crew: CrewFactory = () => ({
      name: 'watcher',
      ok: (desk) => {
        desk.turn('2', 'along', 5);
        turnedAt = desk.counterM();
        desk.sampleAfter(1);
      },
      sample: (desk) => {
        // Reading costs metres, so the next sample is asked for as close as the press allows.
        if (desk.extra) seen.push({ counter: desk.pulledAtM, mm: desk.read('2').along });
        if (seen.length < 7) desk.sampleAfter(1);
      },
    });
    const layout = makeLayout(scenario('nothing'), 12);
    const lag = layout.sampleM - (layout.stations[1]?.atM ?? 0);
    playRun(scenario('nothing', { ...exact, speedMPerMin: 20 }), 12, 1, crew);
    expect(seen.length).toBeGreaterThanOrEqual(7);
    for (const { counter, mm } of seen) expect(mm).toBe(counter - lag >= turnedAt ? 0.1 : 0);
    expect(seen.map((x) => x.mm)).toContain(0);
    expect(seen.map((x) => x.mm)).toContain(0.1);
  });

  it('shifts stations in proportion to their distance, either side of the reference, when the tension changes', () => {
    const over = { ...exact, spliceStrain: 0, tensionSteps: 3, tensionStepStrain: 20, referenceAt: 'middle' } as const;
    const { trace } = playRun(scenario('nothing', over), 9, 4, never);
    const last = trace[trace.length - 1]?.truth ?? {};
    const at = (id: string): number => last[`${id}/along`] ?? 0;
    // Reference 4 and mid-press 4.8 m: stations 1..4 lie in the first zone, 6..8 in the second.
    expect(Math.abs(at('3'))).toBeGreaterThan(0.001);
    expect(at('1')).toBeCloseTo(3 * at('3'), 9);
    expect(at('5')).toBeCloseTo(-at('3'), 9);
    expect(at('8') - at('7')).toBeCloseTo(at('7') - at('6'), 9);
  });

  it('lets a look to the tension take away half to nine tenths, and finds nothing where nothing is wrong', () => {
    const found: boolean[] = [];
    const looking: CrewFactory = () => ({
      name: 'looking',
      ok: () => {},
      sample: (desk) => {
        if (desk.rollNumber === 15) found.push(desk.setTension());
      },
    });
    const s = scenario('nothing', { ...exact, tensionSteps: 3, tensionStepStrain: 30 });
    const ratios: number[] = [];
    for (let seed = 1; seed <= 20; seed++) {
      const before = playRun(s, 8, seed, never).trace;
      const [was, is] = [before[15]?.truth['D/along'] ?? 0, before[16]?.truth['D/along'] ?? 0];
      const after = playRun(s, 8, seed, looking).trace[16]?.truth['D/along'] ?? 0;
      if (was === is && is !== 0) ratios.push(after / is);
    }
    expect(ratios.length).toBeGreaterThan(5);
    for (const ratio of ratios) {
      expect(ratio).toBeGreaterThan(0.099);
      expect(ratio).toBeLessThan(0.501);
    }
    found.length = 0;
    playRun(scenario('nothing'), 8, 1, looking);
    expect(found).toEqual([false]);
  });

  it('reads another label on a second call, and three stations first on a partial check', () => {
    let same = 0;
    const crew: CrewFactory = () => ({
      name: 'partial',
      ok: () => {},
      sample: (desk) => {
        expect(desk.offered).toHaveLength(3);
        const hidden = ['2', '3', '4', '5', '6', '7', 'D'].find((id) => !desk.offered.includes(id)) ?? '';
        expect(desk.read(hidden)).toEqual({ along: null, across: null });
        const first = desk.read(hidden);
        expect(first.along).not.toBeNull();
        if (desk.read(hidden).along === first.along) same++;
      },
    });
    playRun(scenario('nothing', { partial: true }), 8, 5, crew);
    expect(same).toBeLessThan(8);
  });

  it('lets nobody do better than the oracle or worse than never in busy rows', () => {
    for (const name of ['slips', 'creeps', 'reference', 'across', 'shop'] as const) {
      const [untouched, hand, best] = [never, experienced, oracle].map((crew) => outShare(play(name, crew, 8)));
      expect(untouched, name).toBeGreaterThan(0.25);
      expect(hand, name).toBeLessThan((untouched ?? 0) / 2);
      expect(best, name).toBeLessThan(hand ?? 0);
    }
    const everything = outShare(play('nothing', turnEverything, 3));
    expect(outShare(play('nothing', halfTolerance, 3))).toBeLessThanOrEqual(everything + 0.01);
  });

  it('makes turns late or not at all where told so', () => {
    const lateRun = playRun(scenario('shop'), 8, 3, late(experienced));
    const turned = lateRun.trace.filter((t) => t.turns.length > 0);
    expect(turned.length).toBeGreaterThan(0);
    for (const t of turned) expect((t.turns[0]?.atM ?? 0) - t.pulledAtM).toBeGreaterThan(500);
    const all = playRun(scenario('slips'), 8, 3, turnEverything).touches;
    const some = playRun(scenario('slips'), 8, 3, sevenInTen(turnEverything)).touches;
    expect(some / all).toBeGreaterThan(0.6);
    expect(some / all).toBeLessThan(0.8);
  });

  it('can be brought in, at one stop, by a good hand', () => {
    for (const over of [{}, { knobs: 'unmeasured' }, { helical: 0.2 }, { dieFixedAlong: true }] as const) {
      const scores = Array.from({ length: 20 }, (_, i) => playBringIn(bringIn(over), 8, i + 1, allAtOnce));
      expect(mean(scores.map((s) => (s.done ? 1 : 0)))).toBeGreaterThan(0.9);
      expect(mean(scores.map((s) => s.inShare))).toBeGreaterThan(0.95);
      expect(mean(scores.map((s) => s.stops))).toBeLessThan(2);
    }
  });
});
