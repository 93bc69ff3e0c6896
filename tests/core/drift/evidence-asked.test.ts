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
  const asked = evidenceAsked(200, false, 6);
  const little = 0.1;

  it('a clear name needs the least evidence; a name in doubt is waited for', () => {
    expect(isEnough(found(asked.least + little, 0.85), asked)).toBe(true);
    expect(isEnough(found(asked.least - little, 0.99), asked)).toBe(false);
    expect(isEnough(found(asked.least + little, 0.6), asked)).toBe(false);
  });

  it.each([
    [1, 1],
    [2, 2],
    [6, 6],
    [16, 8],
  ])('of %d stations read: with %d times the evidence it is told whatever the name', (read, times) => {
    const { least, unclear } = evidenceAsked(200, false, read);
    expect(Math.exp(unclear - least)).toBeCloseTo(times, 9);
    expect(isEnough(found(unclear + little, 0.5), { least, unclear })).toBe(true);
    expect(isEnough(found(unclear - little, 0.5), { least, unclear })).toBe(false);
  });

  it('what reads out of tolerance is spoken of now, with less evidence and in doubt', () => {
    const now = evidenceAsked(200, true, 6);
    expect(now.least).toBeLessThan(asked.least);
    expect(isEnough(found(now.least + little, 0.5), now)).toBe(true);
  });

  it('nothing found is nothing to say', () => {
    expect(isEnough({ ...found(99, 1), best: null }, asked)).toBe(false);
  });

  it('twice the checks between false notices ask twice the evidence', () => {
    expect(evidenceAsked(400, false, 6).least - asked.least).toBeCloseTo(Math.log(2), 12);
  });
});
