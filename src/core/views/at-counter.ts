import type { LengthUnit } from '../units.js';
import { lengthWords } from './number-words.js';

type Shown = {
  readonly position: { readonly counter_minus_web_m: number };
  readonly units: { readonly length: LengthUnit };
  readonly repeat_mm: number;
};

/**
 * A place on the web as the press counter shows it. Where that is not the metres from OK to run, by which movements and reports count, it says
 * so: "17 550 m", or "counter 19 030 m".
 */
export const atCounter = (web_m: number, { position, units, repeat_mm }: Shown): string => {
  const { counter_minus_web_m: more } = position;
  return `${more === 0 ? '' : 'counter '}${lengthWords(web_m + more, units.length, repeat_mm)}`;
};
