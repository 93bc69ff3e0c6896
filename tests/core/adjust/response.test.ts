import { describe, expect, it } from 'vitest';
import { initialResponse, knobAsLearned, knobWords, knownOf, learnMove } from '../../../src/core/adjust/response.js';
import { travelBudget } from '../../../src/core/adjust/travel.js';
import { seeded } from '../../support/seeded.js';
import { knobOf } from './press-under-test.js';

const moves = (n: number, asked: (i: number) => number, got: (asked: number, i: number) => number, given = true) =>
  Array.from({ length: n }, (_, i) => i).reduce(
    (knob, i) => learnMove(knob, { asked_mm: asked(i), got_mm: got(asked(i), i), got_sd_mm: 0.02 }),
    initialResponse(given),
  );

describe('what a knob really does', () => {
  it('nobody turned it: what its marks say, and no word about it', () => {
    expect(knownOf(initialResponse(true))).toMatchObject({
      moves: 0,
      gain: { plus: 1, minus: 1 },
      backlash_mm: 0,
      sense: 1,
      answers: null,
    });
    expect(knownOf(initialResponse(false)).sense).toBeNull();
    expect(knobWords('4 grey', knownOf(initialResponse(true)))).toBeNull();
  });
  it('ten moves of 0.20 that gave 0.16: about 0.81, only that way', () => {
    const known = knownOf(
      moves(
        10,
        () => 0.2,
        (asked) => asked * 0.8,
      ),
    );
    expect(known.gain.plus).toBeCloseTo(0.81, 1);
    expect(known.gain.minus).toBeCloseTo(1, 6);
    expect(known.gain_sd.plus).toBeLessThan(known.gain_sd.minus);
  });
  it('one rough reading moves little', () => {
    const knob = learnMove(initialResponse(true), { asked_mm: 0.06, got_mm: 0.12, got_sd_mm: 0.05 });
    expect(Math.abs(knownOf(knob).gain.plus - 1)).toBeLessThan(0.1);
  });
  it('the closed form of a one-parameter Bayesian regression (normal prior, known noise)', () => {
    // One move, +0.2 asked, 0.16 got; sd 0.02, a hand of 10 % and 0.03: noise 0.0017; gain = 1 − 0.04·0.2·0.04/(0.04·0.04+0.0017).
    const knob = learnMove(initialResponse(true), { asked_mm: 0.2, got_mm: 0.16, got_sd_mm: 0.02 });
    expect(knob.mean[0]).toBeCloseTo(1 - (0.04 * 0.2 * 0.04) / (0.04 * 0.04 + 0.0017), 12);
    expect(knob.cov[0]).toBeCloseTo(1 / (1 / 0.04 + 0.04 / 0.0017), 12);
  });
  it('the wilder a result, the less it teaches: more than two of its sd off, its noise grows with the square', () => {
    const plain = 0.02 ** 2 + 0.03 ** 2 + 0.02 ** 2;
    const learned = (got_mm: number) =>
      learnMove(initialResponse(true), { asked_mm: 0.2, got_mm, got_sd_mm: 0.02 }).mean[0] - 1;
    const closed = (got_mm: number): number => {
      const wild = (got_mm - 0.2) ** 2 / (0.04 * 0.04 + plain) / 4;
      return (0.04 * 0.2 * (got_mm - 0.2)) / (0.04 * 0.04 + plain * Math.max(1, wild) ** 2);
    };
    for (const got_mm of [0.16, 0.3, 0.4, 0.6, -0.2, 1.2]) expect(learned(got_mm)).toBeCloseTo(closed(got_mm), 12);
    expect(learned(0.3)).toBeGreaterThan(0.1);
    expect(learned(1.2)).toBeLessThan(0.05);
  });
  it('whatever was learned, it is planned with between half and 1.7 times what the marks say', () => {
    const of = (share: number) =>
      knownOf(
        moves(
          40,
          () => 0.2,
          (asked) => asked * share,
        ),
      ).gain.plus;
    expect(of(1.6)).toBeGreaterThan(1.5);
    expect(of(1.6)).toBeLessThanOrEqual(1.7);
    for (const gain of [-3, 0, 0.2, 0.49])
      expect(knownOf({ ...initialResponse(true), mean: [gain, gain, 0] }).gain).toEqual({ plus: 0.5, minus: 0.5 });
    for (const gain of [1.71, 2, 9])
      expect(knownOf({ ...initialResponse(true), mean: [gain, gain, 0] }).gain).toEqual({ plus: 1.7, minus: 1.7 });
    expect(knownOf({ ...initialResponse(true), mean: [0.51, 1.69, 0] }).gain).toEqual({ plus: 0.51, minus: 1.69 });
  });
  it('slack shows when the direction is reversed', () => {
    const known = knownOf(
      moves(
        30,
        (i) => (i % 2 === 0 ? 0.3 : -0.3),
        (asked, i) => (i === 0 ? asked : asked - Math.sign(asked) * 0.05),
      ),
    );
    expect(known.backlash_mm).toBeGreaterThan(0.02);
    const none = knownOf(
      moves(
        30,
        (i) => (i % 2 === 0 ? 0.3 : -0.3),
        (asked) => asked,
      ),
    );
    expect(none.backlash_mm).toBeLessThan(0.01);
  });
  it('a direction that was given is never turned about: moves the other way cast doubt on it, and that is asked', () => {
    const given = moves(
      12,
      () => 0.3,
      (asked) => -asked,
    );
    const known = knownOf(given);
    expect(known).toMatchObject({ sense: 1, sense_doubted: true });
    expect(knobWords('4 grey', known)).toMatch(/^Did 4 grey's knob go the other way/);
    const knob = knobOf({ sense: 1, hand_plus: 'clockwise' });
    expect(knobAsLearned(knob, known)).toEqual(knob);
    // One move the wrong way against some the right way is a slip of the hand, two are asked about; what goes right again is believed again.
    const slip = [0.3, 0.3, -0.3].reduce(
      (k, got_mm) => learnMove(k, { asked_mm: 0.3, got_mm, got_sd_mm: 0.02 }),
      initialResponse(true),
    );
    expect(knownOf(slip).sense_doubted).toBe(false);
    expect(knownOf(learnMove(slip, { asked_mm: 0.3, got_mm: -0.3, got_sd_mm: 0.02 })).sense_doubted).toBe(true);
    const right = Array.from({ length: 12 }).reduce<typeof given>(
      (k) => learnMove(k, { asked_mm: 0.3, got_mm: 0.3, got_sd_mm: 0.02 }),
      given,
    );
    expect(knownOf(right)).toMatchObject({ sense: 1, sense_doubted: false });
  });
  it('not given, it goes the other way: proved after a clear move or two, and said', () => {
    const known = knownOf(
      moves(
        2,
        () => 0.3,
        (asked) => -asked,
        false,
      ),
    );
    expect(known.sense).toBe(-1);
    expect(knobWords('4 grey', known)).toContain('other way');
    expect(knobAsLearned(knobOf({ sense: 1, hand_plus: 'clockwise' }), known)).toMatchObject({
      sense: -1,
      hand_plus: 'anticlockwise',
    });
    expect(knobAsLearned(knobOf(), knownOf(initialResponse(true)))).toEqual(knobOf());
  });
  it('a direction not given is proved by one clear move', () => {
    expect(
      knownOf(
        moves(
          1,
          () => 0.3,
          (asked) => asked,
          false,
        ),
      ).sense,
    ).toBe(1);
  });
  it('does not answer: said', () => {
    const known = knownOf(
      moves(
        6,
        () => 0.2,
        () => 0.0,
      ),
    );
    expect(known.answers).toBe(false);
    expect(knobWords('4 grey', known)).toContain('did not follow');
  });
  it('a move that was not read teaches only the direction', () => {
    const knob = learnMove(initialResponse(true), { asked_mm: -0.1, got_mm: 0, got_sd_mm: Number.POSITIVE_INFINITY });
    expect(knob).toEqual({ ...initialResponse(true), last: -1 });
  });
  it('mirrored moves teach the mirrored knob', () => {
    const random = seeded(3);
    const list = Array.from({ length: 12 }, () => ({
      asked_mm: 0.3 * random.normal(),
      got_mm: 0.3 * random.normal(),
      got_sd_mm: 0.03,
    }));
    const plain = list.reduce(learnMove, initialResponse(true));
    const mirrored = list
      .map((m) => ({ ...m, asked_mm: -m.asked_mm, got_mm: -m.got_mm }))
      .reduce(learnMove, initialResponse(true));
    expect(mirrored.mean[0]).toBeCloseTo(plain.mean[1], 10);
    expect(mirrored.mean[1]).toBeCloseTo(plain.mean[0], 10);
    expect(mirrored.mean[2]).toBeCloseTo(plain.mean[2], 10);
  });
  it('the interval holds: over simulated knobs the true gain lies within two sd 90 % of the time or oftener', () => {
    const random = seeded(17);
    let inside = 0;
    const runs = 400;
    for (let run = 0; run < runs; run += 1) {
      const gain = 1 + 0.2 * random.normal();
      let knob = initialResponse(true);
      for (let i = 0; i < 8; i += 1) {
        const asked_mm = 0.1 + 0.1 * random.uniform();
        const got_mm = gain * asked_mm * (1 + 0.1 * random.normal()) + 0.03 * random.normal();
        knob = learnMove(knob, { asked_mm, got_mm, got_sd_mm: 0.03 });
      }
      if (Math.abs(knob.mean[0] - gain) < 2 * Math.sqrt(knob.cov[0])) inside += 1;
    }
    expect(inside / runs).toBeGreaterThan(0.9);
  });
});

describe('travel left', () => {
  const budget = (used: number) => travelBudget('4 grey', 'along', 3, 0.05, used, 'mm');
  it('ample in the middle, low from a fifth on, spent at the last division', () => {
    expect(budget(0)).toEqual({ used_mm: 0, plus_mm: 3, minus_mm: 3, state: 'ample', words: null });
    expect(budget(2.5)?.state).toBe('low');
    expect(budget(2.5)?.words).toBe(
      "4 grey's knob has 0.50 mm of travel left to advance. At the next stop a tooth gives it back.",
    );
    expect(budget(-2.96)?.state).toBe('spent');
    expect(budget(-2.96)?.words).toContain('to retard');
  });
  it('side to side there is no tooth to give it back', () => {
    expect(travelBudget('4 grey', 'across', 5, 0.05, 4.9, 'mm')?.words).toBe(
      "4 grey's knob has 0.10 mm of travel left to operator side.",
    );
  });
  it('travel not given: nothing is claimed', () => expect(travelBudget('4', 'along', null, 0.05, 1, 'mm')).toBeNull());
});
