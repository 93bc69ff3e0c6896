import { placeWords } from '../counter.js';
import { settlingStretch } from '../hold/settling-stretch.js';
import type { RunState } from '../run/state.js';
import { eventNames } from './event-names.js';
import { listWords } from './event-words.js';
import { wholeWords } from './number-words.js';

/** So many of the latest stretches are told; older product has gone its way. */
const TOLD = 5;

/** Web printed while register settled after a start or a splice, as waste to check; the latest stretches, oldest first. */
export const settlingWords = (state: RunState): readonly string[] => {
  const { judged, job, press } = state;
  const names = eventNames(state);
  const count = { repeat_m: names.repeat_mm / 1000, around: job.labels_around, across: job.labels_across };
  const now_m = judged.web.keyed_ms === null ? (judged.last_check?.web_m ?? 0) : judged.web.base_m;
  const gone_m = judged.holds.rolls.filter(({ told }) => told).at(-2)?.end_m ?? Number.NEGATIVE_INFINITY;
  const at = (m: number): string => placeWords(m, names);
  return judged.marks
    .flatMap((mark) => {
      if ((mark.kind !== 'start' && mark.kind !== 'stock') || press.stations.length === 0) return [];
      const stretch = settlingStretch(mark.web_m, job.settle_m, now_m, judged.holds.rolls, count);
      // What is on a roll that went its way is nobody's news any more.
      if (stretch === null || stretch.to_m <= gone_m) return [];
      const rolls =
        stretch.rolls.length === 0
          ? ''
          : `, finished ${stretch.rolls.length === 1 ? 'roll' : 'rolls'} ${listWords(stretch.rolls)}`;
      const after = mark.kind === 'start' ? 'a start' : 'a splice';
      return [
        `Waste to check, register settling after ${after}: ${at(stretch.from_m)} to ${at(stretch.to_m)}${rolls}, ${wholeWords(stretch.labels)} labels.`,
      ];
    })
    .slice(-TOLD);
};
