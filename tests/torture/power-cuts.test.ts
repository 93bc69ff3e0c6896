import { describe, expect, it } from 'vitest';
import { noPowerCuts, powerCuts } from './power-cuts.js';

const why = noPowerCuts();
const leftOut = why === null ? '' : ` (left out: ${why})`;

/** The short form; `npm run torture -- power` cuts it two hundred times. */
describe('power cut on a disk of its own', () => {
  it.skipIf(why !== null)(
    `nothing that was said to be on disk is lost${leftOut}`,
    async () => {
      const told = await powerCuts({ cuts: 2, seed: 1 });
      expect(told).toMatchObject({ cuts: 2, lost: [], stuck: [] });
      expect(told.shown).toBeGreaterThan(0);
    },
    900_000,
  );

  it.skipIf(why !== null)(
    `a disk that says "done" before it is loses what it said, and that is seen${leftOut}`,
    async () => {
      const told = await powerCuts({ cuts: 1, seed: 2, lying: true });
      expect(told.lost.length).toBeGreaterThan(0);
    },
  );
});
