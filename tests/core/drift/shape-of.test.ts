import { describe, expect, it } from 'vitest';
import { initial, step, type WatchState } from '../../../src/core/drift/watch.js';
import { configOf, readPress, SEVEN, sigmaOf } from '../../support/press-sim.js';
import { seeded } from '../../support/seeded.js';

const config = configOf(SEVEN);
const STATION = 3;

/** Of so many seeded runs in which a station alone went so from check 31 on, the share called a ramp four checks after it was found. */
const calledRamp = (mm: (n: number) => number, runs: number): number => {
  let ramps = 0;
  let named = 0;
  for (let run = 0; run < runs; run++) {
    const random = seeded(4200 + run * 7);
    let state: WatchState = initial(config);
    let found = 0;
    for (let n = 1; n <= 90; n++) {
      const off = n > 30 ? mm(n - 30) : 0;
      const truth = { along: (k: number) => (k === STATION ? off : 0), across: () => 0 };
      const stepped = step(config, state, readPress(SEVEN, random, n, truth));
      state = stepped.state;
      const own = stepped.found[0]?.movements.find((m) => m.cause.kind === 'station' && m.cause.station === '4');
      if (n <= 30 || own === undefined) continue;
      if (found === 0) found = n;
      if (n < found + 4) continue;
      named += 1;
      if (own.shape === 'ramp') ramps += 1;
      break;
    }
  }
  return ramps / named;
};

// No source: the truth is known because it is simulated. Limits are what was measured on other seeds, with room for three standard errors.
describe('a movement that goes on, or went at once', () => {
  it.each([1.5, 3])('a step of %d sigma is seldom called a drift', (size) => {
    expect(calledRamp(() => size * sigmaOf(SEVEN), 60)).toBeLessThan(0.12);
  });

  it('a drift is called one, the more often the faster it goes', () => {
    const by = [0.1, 0.4, 0.7].map((slope) => calledRamp((n) => slope * sigmaOf(SEVEN) * n, 60));
    expect(by[0]).toBeGreaterThan(0.15);
    expect(by[1]).toBeGreaterThan(0.4);
    expect(by[2]).toBeGreaterThan(0.65);
  });
});
