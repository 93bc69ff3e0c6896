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
    // One move, +0.2 asked, 0.16 got, sd 0.02 and a hand of 10 %: noise 0.0008; gain = 1 − 0.04·0.2·0.04/(0.04·0.04+0.0008).
    const knob = learnMove(initialResponse(true), { asked_mm: 0.2, got_mm: 0.16, got_sd_mm: 0.02 });
    expect(knob.mean[0]).toBeCloseTo(1 - (0.04 * 0.2 * 0.04) / (0.04 * 0.04 + 0.0008), 12);
    expect(knob.cov[0]).toBeCloseTo(1 / (1 / 0.04 + 0.04 / 0.0008), 12);
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
  it('goes the other way: proved after a clear move or two, and said', () => {
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
