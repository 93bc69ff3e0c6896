import { describe, expect, it } from 'vitest';
import { knobFound } from '../../../src/core/adjust/knob-found.js';
import { beginPlace, readPlace, turnedPlace } from '../../../src/core/adjust/place-filter.js';
import { initialResponse, knownOf } from '../../../src/core/adjust/response.js';

const VARIANCE = 0.02 ** 2;
const KNOB = { gain: 1, gain_sd: 0.3, slack_mm: 0, slack_sd_mm: 0.02, reversed: 0.04 };
/** From 1.00, turned −1.00, then read. */
const found = (read_mm: number, given = false) =>
  knobFound(
    initialResponse(given),
    readPlace(
      turnedPlace(readPlace(beginPlace(KNOB), 1, VARIANCE), { teeth_mm: 0, knob_mm: -1, told: 1 }),
      read_mm,
      VARIANCE,
    ),
  );

describe('a knob as make-ready found it', () => {
  it('the docstring: taken for 1.00, gives 0.72', () => {
    const known = knownOf(found(0.28));
    expect(known.gain.plus).toBeCloseTo(0.72, 1);
    expect(known.gain.minus).toBeCloseTo(0.72, 1);
    // At least what the two ways may differ, at most what the two readings scatter with it: √(0.05² + 2 × 0.02² + hand) over 1.00 turned.
    expect(known.gain_sd.plus).toBeGreaterThan(0.05);
    expect(known.gain_sd.plus).toBeLessThan(0.08);
    expect(known).toMatchObject({ moves: 1, sense: 1 });
  });
  it('goes the other way: also where the press file says otherwise, once it is proved', () => {
    expect(knownOf(found(1.9)).sense).toBe(-1);
    expect(knownOf(found(1.9, true)).sense).toBe(-1);
  });
  it('not turned: as it was', () => {
    const before = initialResponse(true);
    expect(knobFound(before, readPlace(beginPlace(KNOB), 1, VARIANCE))).toBe(before);
  });
});
