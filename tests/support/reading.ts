import type { Check, StationReading } from '../../src/core/record.js';

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

/** A check keyed on the board, of which only its number, place and readings matter. */
export const keyedCheck = (check: number, web_m: number, readings: readonly StationReading[]): Check => ({
  type: 'check',
  check,
  web_m,
  roll: null,
  pulled_at: null,
  source: 'keyed',
  place: null,
  readings,
});
