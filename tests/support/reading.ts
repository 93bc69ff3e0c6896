import type { StationReading } from '../../src/core/record.js';

/** A station at a check of which nothing is said, but for what is given. */
export const reading = (station: string, said: Partial<StationReading> = {}): StationReading => ({
  station,
  along_mm: null,
  across_mm: null,
  look: null,
  edge: null,
  plate: null,
  flaws: null,
  labels: null,
  ...said,
});
