import { describe, expect, it } from 'vitest';
import type { Evidence } from '../../../src/core/drift/evidence.js';
import { evidenceAsked, isEnough } from '../../../src/core/drift/evidence-asked.js';

const found = (ln_total: number, share: number): Evidence => ({
  ln_total,
  best: { cause: 1, start: 0, shape: 'step', ln: ln_total },
  shares: [1 - share, share],
  best_of: [],
  ramp_share: [],
});

describe('when a movement is spoken of', () => {
  const asked = evidenceAsked(200, false);
  const little = 0.1;

  it('a clear name needs the least evidence; a name in doubt is waited for', () => {
    expect(isEnough(found(asked.least + little, 0.85), asked)).toBe(true);
    expect(isEnough(found(asked.least - little, 0.99), asked)).toBe(false);
    expect(isEnough(found(asked.least + little, 0.6), asked)).toBe(false);
  });

  it('with eight times the evidence it is told whatever the name: some causes look alike for ever', () => {
    expect(isEnough(found(asked.least + Math.log(8) + little, 0.5), asked)).toBe(true);
    expect(isEnough(found(asked.least + Math.log(8) - little, 0.5), asked)).toBe(false);
  });

  it('what reads out of tolerance is spoken of now, with less evidence and in doubt', () => {
    const now = evidenceAsked(200, true);
    expect(now.least).toBeLessThan(asked.least);
    expect(isEnough(found(now.least + little, 0.5), now)).toBe(true);
  });

  it('nothing found is nothing to say', () => {
    expect(isEnough({ ...found(99, 1), best: null }, asked)).toBe(false);
  });

  it('twice the checks between false notices ask twice the evidence', () => {
    expect(evidenceAsked(400, false).least - asked.least).toBeCloseTo(Math.log(2), 12);
  });
});
