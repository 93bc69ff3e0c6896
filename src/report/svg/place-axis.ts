import { type ScaleLinear, scaleLinear } from 'd3-scale';
import { counterAtWeb, firstCounter, type Places, placeWords } from '../../core/counter.js';
import { lengthFromM, lengthToM } from '../../core/units.js';
import { type Svg, segment, words } from './element.js';
import { INK } from './picture.js';

/** About so many ticks over the whole width. */
const TICKS = 6;

/**
 * Ticks of the place on the web under a picture, round values of the press counter in the job's unit; `x` goes from web metres to the
 * picture. Where the counter was set anew the numbers begin anew.
 */
export function placeAxis(x: ScaleLinear<number, number>, top: number, places: Places): readonly Svg[] {
  const [left = 0, right = 0] = x.range();
  return roundPlaces(x.domain(), places).flatMap((web_m) => [
    segment(x(web_m), top, x(web_m), top + 4, { stroke: INK.grey }),
    words(Math.max(left, Math.min(x(web_m), right - ROOM)), top + 17, placeWords(web_m, places), {
      'text-anchor': 'middle',
    }),
  ]);
}

/** Half the width of a number, so that the last one stays in the picture. */
const ROOM = 28;

/** Web positions, m, at which the counter showed a round number. */
function roundPlaces(domain: readonly number[], { counters = firstCounter, length, repeat_mm }: Places): number[] {
  const [from = 0, to = 1] = domain;
  const begins = counters.map((one) => one.from_m).filter((m) => m !== null && m > from && m < to) as number[];
  const ends = [from, ...begins, to];
  return ends.slice(1).flatMap((end, i) => {
    const begin = ends[i] ?? from;
    const less_m = begin - counterAtWeb(begin, counters);
    const shown = [begin, end].map((m) => lengthFromM(m - less_m, length, repeat_mm));
    return scaleLinear(shown, [0, 1])
      .ticks(Math.max(1, Math.round((TICKS * (end - begin)) / (to - from))))
      .map((value) => lengthToM(value, length, repeat_mm) + less_m);
  });
}
