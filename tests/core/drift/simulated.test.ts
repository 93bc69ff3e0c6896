import { describe, expect, it } from 'vitest';
import { delayOf } from '../../bench/drift-delays.js';
import { falseNotices, falseNoticesHeldToSample } from '../../bench/drift-false-notices.js';
import { DRIFTS, forecastsOf } from '../../bench/drift-forecast.js';
import { SEVEN } from '../../support/press-sim.js';

// Smaller runs of the bench's tables; limits are the asked figures plus three standard errors of these runs.
describe('a simulated press, truth known', () => {
  it('false notices with nothing moving: near one in 200 checks of the whole press', () => {
    const { checks, notices } = falseNotices(SEVEN, 200, 5000);
    expect(notices / checks).toBeGreaterThan(0.35 / 200);
    expect(notices / checks).toBeLessThan(1.5 / 200);
  });

  it('held to the passed sample, whose one reading is the aim: a station that stands off it has not moved', () => {
    const { checks, notices } = falseNoticesHeldToSample(SEVEN, 200, 5000);
    expect(notices / checks).toBeLessThan(1.75 / 200);
  });

  it('scatter twice what the job believed: after 20 checks not more than twice the false notices asked', () => {
    const { checks, notices } = falseNotices(SEVEN, 200, 4000, undefined, 0.02, 20);
    expect(notices / checks).toBeLessThan(2 / 200);
  });

  // The prototype's figures: 6.0, 2.4 and 4.3 checks for 1.5 sigma.
  it.each([
    ['one station', 6.0],
    ['the reference', 2.4],
    ['the web', 4.3],
  ] as const)('%s moved by 1.5 sigma is found soon and named right', (moved, prototype) => {
    const d = delayOf(moved, 1.5, 80);
    expect(d.mean).toBeLessThan(1.3 * prototype + 3 * d.error);
    expect(d.right).toBeGreaterThan(0.75);
  });

  it('scatter half of what the job believed delays by less than half', () => {
    const known = delayOf('one station', 2, 80);
    const half = delayOf('one station', 2, 80, 0.08);
    expect(half.mean / known.mean).toBeLessThan(1.5);
  });

  it('80 % intervals hold about 80 % of the time over drifts of four kinds, and not far from it for each', () => {
    const all = DRIFTS.map((d) => forecastsOf(d, 12));
    const held = all.reduce((a, h) => a + h.held, 0) / all.reduce((a, h) => a + h.forecasts, 0);
    expect(held).toBeGreaterThan(0.74);
    expect(held).toBeLessThan(0.88);
    for (const h of all) {
      expect(h.held / h.forecasts).toBeGreaterThan(0.68);
      expect(h.held / h.forecasts).toBeLessThan(0.92);
    }
  });
});
