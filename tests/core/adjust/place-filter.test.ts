import { describe, expect, it } from 'vitest';
import { beginPlace, placeOf, readPlace, surpriseOf, turnedPlace } from '../../../src/core/adjust/place-filter.js';

const KNOB = { gain: 1, gain_sd: 0.3, slack_mm: 0, slack_sd_mm: 0.02, reversed: 0.04 };
const VARIANCE = 0.03 ** 2;
const read = readPlace(beginPlace(KNOB), 1, VARIANCE);

describe('where a print stands in make-ready', () => {
  it('nothing is known before it was read; labels are averaged', () => {
    expect(placeOf(beginPlace(KNOB))).toBeNull();
    const twice = placeOf(readPlace(read, 1.04, VARIANCE));
    expect(twice?.mm).toBeCloseTo(1.02, 4);
    expect(twice?.sd_mm).toBeCloseTo(0.03 / Math.SQRT2, 4);
  });
  it('teeth are exact; a turn of an unmeasured knob is not, and measures it', () => {
    const teeth = placeOf(turnedPlace(read, { teeth_mm: -3.175, knob_mm: 0, told: 1 }));
    expect(teeth?.mm).toBeCloseTo(-2.175, 4);
    expect(teeth?.sd_mm).toBeCloseTo(0.03, 4);
    const turned = turnedPlace(read, { teeth_mm: 0, knob_mm: -0.5, told: 1 });
    expect(placeOf(turned)?.sd_mm ?? 0).toBeGreaterThan(0.15);
    const told = placeOf(readPlace(turned, 0.6, VARIANCE));
    expect(told?.gain).toBeCloseTo(0.8, 1);
    expect(told?.mm).toBeCloseTo(0.6, 1);
  });
  it('a reading that no knob explains tells the place and nothing of the knob, and is a surprise', () => {
    const turned = turnedPlace(read, { teeth_mm: 0, knob_mm: -0.3, told: 1 });
    expect(surpriseOf(turned, -3, VARIANCE)).toBeGreaterThan(10);
    expect(placeOf(readPlace(turned, -3, VARIANCE))).toMatchObject({ mm: -3, gain: 1, sense: 1 });
  });
  it('a first label misread hides a knob that goes the other way for one turn, not for good', () => {
    // It stood at +0.25 and was keyed −0.25; its knob is marked the wrong way round.
    const given = { ...KNOB, gain_sd: 0.08 };
    const first = readPlace(beginPlace(given), -0.25, VARIANCE);
    const once = readPlace(turnedPlace(first, { teeth_mm: 0, knob_mm: 1.36, told: 1 }), -1.11, VARIANCE / 2);
    const twice = readPlace(turnedPlace(once, { teeth_mm: 0, knob_mm: 1.1, told: 1 }), -2.23, VARIANCE / 2);
    expect(placeOf(twice)).toMatchObject({ sense: -1 });
    expect(placeOf(twice)?.mm).toBeCloseTo(-2.23, 1);
  });
  it('a knob that goes the other way is found out, a large move at once', () => {
    const turned = turnedPlace(read, { teeth_mm: 0, knob_mm: -1, told: 1 });
    expect(placeOf(readPlace(turned, 2.05, VARIANCE))?.sense).toBe(-1);
    expect(surpriseOf(turned, 2.05, VARIANCE)).toBeLessThan(1);
  });
});
