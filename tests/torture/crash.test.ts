import { describe, expect, it } from 'vitest';
import { killAndStart } from './kill-and-start.js';

/** The short form; `npm run torture` kills five hundred times. */
describe('killed with -9 while keys and a sensor come in', () => {
  it('everything the screen said was taken is there, nothing twice, in order, and the state is that of a fold from scratch', async () => {
    const told = await killAndStart({ kills: 8, seed: 11, checkEvery: 4 });
    expect(told).toMatchObject({ kills: 8, lost: [], twice: [], outOfOrder: [], statesWrong: [] });
    expect(told.shown).toBeGreaterThan(0);
    expect(told.stateChecked).toBe(2);
  }, 240_000);
});
