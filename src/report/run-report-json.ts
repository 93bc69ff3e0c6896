import type { HandoverView, WholeRun } from '../core/views/handover-view.js';
import { heldMetres } from '../core/views/held-metres.js';
import { handoverData } from './handover-json.js';
import { jsonText } from './json-text.js';
import { adviceForNextRun } from './run/next-run.js';
import { savedByWarning } from './run/saved-by-warning.js';
import type { RunReportData } from './run-report-schema.js';
import { tellingOf } from './telling.js';

/** The run report as one JSON document of `runReportSchema`. */
export const runReportJson = (view: HandoverView): string => jsonText(runReportData(view));

/** The run report as data, before it is text. */
export function runReportData(view: HandoverView): RunReportData {
  const { running_h, out, warnings, rounds, knobs } = view.whole ?? NOTHING;
  return {
    format: 'run-report/1',
    handover: handoverData(view),
    running_h,
    held_m: heldMetres(view),
    out_of_register: { surely: { ...out.surely }, at_most: { ...out.at_most } },
    warnings: { ...warnings },
    checks: { ...rounds, missed_at: rounds.missed_at.map((one) => ({ ...one })) },
    saved: savedByWarning(view).map(({ event, plain_m, held_m, atLeast }) => ({
      movement: event,
      plain_chart_m: plain_m,
      held_m,
      at_least: atLeast,
    })),
    knobs: knobs.map(({ station, axis, known }) => ({
      station,
      axis,
      turns: known.moves,
      gain_plus: known.gain.plus,
      gain_minus: known.gain.minus,
      backlash_mm: known.backlash_mm,
    })),
    advice: [...adviceForNextRun(tellingOf(view))],
  };
}

const NOTHING: WholeRun = {
  running_h: 0,
  warnings: { total: 0, each_hour: null, most_in_10_min: 0 },
  out: { surely: { m: 0, min: 0 }, at_most: { m: 0, min: 0 } },
  rounds: { made: 0, late: 0, missed: 0, missed_at: [] },
  knobs: [],
  plate_lives: [],
};
