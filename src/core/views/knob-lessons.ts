import {
  initialResponse,
  type KnobKnown,
  type KnobResponse,
  knobWords,
  knownOf,
  learnMove,
} from '../adjust/response.js';
import type { Axis, PerAxis } from '../axis.js';
import type { CorrectionFinding } from '../finding.js';
import { knobOf } from '../run/knob-of.js';
import type { RunState } from '../run/state.js';
import { labelOf, stationsOf } from '../run/stations.js';

export type DoneCorrection = {
  readonly at: string;
  readonly by: string;
  readonly web_m: number;
  readonly station: string;
  readonly label: string;
  readonly axis: Axis;
  readonly move_mm: number;
  readonly teeth: number | null;
  readonly divisions: number | null;
  /** null = no sample printed after it has been read yet. */
  readonly result: CorrectionFinding | null;
  /** How well the result was read, 1 sigma, mm; absent or null = not known. */
  readonly got_sd_mm?: number | null;
  readonly advised: boolean;
  /** Made before the first OK to run: the sample that was passed judged it. */
  readonly make_ready: boolean;
  readonly withdrawn: boolean;
};

/** What the run's own moves taught of one knob. */
export type KnobLesson = {
  readonly station: string;
  readonly label: string;
  readonly axis: Axis;
  readonly known: KnobKnown;
  /** What the operator should know of it; null = nothing out of the way. */
  readonly words: string | null;
};

/**
 * Every knob that was turned and read afterwards, learned move by move (`learnMove`). A change is the difference of two readings, so it is
 * read to the scatter of one times √2. Moves of whole teeth teach nothing of the knob, moves taken back nothing at all.
 */
export const knobLessons = (
  state: RunState,
  corrections: readonly DoneCorrection[],
  scatter_mm: PerAxis<number | null>,
): readonly KnobLesson[] => {
  const stations = stationsOf(state.press, state.job);
  const learned = new Map<string, { readonly done: DoneCorrection; readonly knob: KnobResponse }>();
  for (const done of corrections) {
    if (done.withdrawn || (done.teeth !== null && done.teeth !== 0)) continue;
    const key = `${done.axis} ${done.station}`;
    const turned = stations.find((s) => s.id === done.station);
    const given = turned !== undefined && knobOf(state.judged, turned, done.axis).sense_given;
    const before = learned.get(key)?.knob ?? initialResponse(given);
    const knob = learnMove(before, {
      asked_mm: done.result?.asked_mm ?? done.move_mm,
      got_mm: done.result?.got_mm ?? 0,
      got_sd_mm: done.result === null ? Infinity : (scatter_mm[done.axis] ?? 0.05) * Math.SQRT2,
    });
    learned.set(key, { done, knob });
  }
  return [...learned.values()]
    .filter(({ knob }) => knob.moves > 0)
    .map(({ done, knob }) => {
      const station = stations.find((s) => s.id === done.station);
      const label = station === undefined ? done.label : labelOf(station);
      const known = knownOf(knob);
      return { station: done.station, label, axis: done.axis, known, words: knobWords(`${label} ${done.axis}`, known) };
    });
};
