import { flawSentence, flawWords } from '../plates/flaw.js';
import { type PlateView as PlateJudged, plateViews } from '../plates/plates.js';
import { platesConfig } from '../run/judge-plates.js';
import type { RunState } from '../run/state.js';
import type { PlateView } from './board-view.js';

/** One station's plate as the board shows it; the die has none. */
export const plateView = (state: RunState, station: string): PlateView => {
  const plate = plateViews(platesConfig(state.press, state.job), state.judged.plates).find(
    (p) => p.station === station,
  );
  const looks = state.judged.plates.stations[station]?.looks ?? [];
  const counted = looks.findLast((l) => l.labels > 0);
  return {
    grade: plate?.grade ?? null,
    flaws: counted === undefined ? null : { flaws: counted.flaws, labels: counted.labels },
    flag: plate?.flag ?? null,
    why: plate?.why ?? null,
    flaw: plate === undefined ? '' : flawSentence(plate.flaw),
    cause: plate?.cause ?? null,
    last_wash_m: plate?.last_wash_m ?? null,
    washed:
      plate === undefined || plate.last_wash_m === null
        ? null
        : { seen: plate.wash_helped !== null, words: washWords(plate) },
  };
};

/** "Washed when dirty (fill-in at the leading edge): it helped." */
const washWords = ({ washed_of, wash_helped }: PlateJudged): string => {
  if (washed_of === null) return '';
  const flaw = flawWords(washed_of.flaw);
  const since = wash_helped === null ? 'not seen since' : wash_helped ? 'it helped' : 'it did not help';
  return `Washed when ${washed_of.state}${flaw === '' ? '' : ` (${flaw})`}: ${since}.`;
};
