import { type CounterStretch, type Places, placeWords } from '../counter.js';
import type { LengthUnit } from '../units.js';

type Shown = {
  readonly position: { readonly counter_minus_web_m: number; readonly counters?: readonly CounterStretch[] };
  readonly units: { readonly length: LengthUnit };
  readonly repeat_mm: number;
};

/** What places are told with, from a board's view: board, pages and reports then say the same counter. */
export const placesOf = ({ position, units, repeat_mm }: Shown): Places => ({
  counters: position.counters ?? [{ from_m: null, offset_m: -position.counter_minus_web_m }],
  length: units.length,
  repeat_mm,
});

/** A place on the web as the press counter showed it then, in the job's unit: "19 030 m". */
export const atCounter = (web_m: number, view: Shown): string => placeWords(web_m, placesOf(view));
