import { describe, expect, it } from 'vitest';
import { counterAtWeb, placeWords, webAtCounter } from '../../src/core/counter.js';

/** OK to run at counter 9 400; set anew to 0 at web position 2 165, where it stood at 11 565. */
const counters = [
  { from_m: null, offset_m: -9_400 },
  { from_m: 2_165, offset_m: 2_165 },
];

describe('the press counter', () => {
  it('tells each place in the counter that stood then', () => {
    expect(counterAtWeb(2_000, counters)).toBe(11_400);
    expect(counterAtWeb(2_500, counters)).toBe(335);
    expect(placeWords(2_000, { counters, length: 'ft', repeat_mm: 304.8 })).toBe('37 402 ft');
  });

  it('keyed, is the place where it last showed that', () => {
    expect(webAtCounter(11_300, counters, 2_500)).toBe(1_900);
    expect(webAtCounter(300, counters, 2_500)).toBe(2_465);
  });

  it('keyed ahead of what it has shown, is taken by the counter of now', () => {
    expect(webAtCounter(500, counters, 2_500)).toBe(2_665);
    expect(webAtCounter(9_500, counters.slice(0, 1), 50)).toBe(100);
    expect(webAtCounter(7, [], 0)).toBe(7);
  });

  it('there and back is the same place, on either side of where it was set anew', () => {
    for (const web_m of [0, 700, 2_100, 2_200, 2_499])
      expect(webAtCounter(counterAtWeb(web_m, counters), counters, 2_500)).toBe(web_m);
  });
});
