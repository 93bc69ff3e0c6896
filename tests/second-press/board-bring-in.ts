/** The board, obeyed in make-ready: each sample keyed, every move of its plan made, second labels read when asked for, OK when it says all in. */

import type { MakeReadyPlan } from '../../src/core/adjust/make-ready.js';
import type { Move } from '../../src/core/finding.js';
import { planOfMakeReady } from '../../src/core/run/make-ready-plan.js';
import { reading } from '../support/reading.js';
import { type TryRun, tryRun } from '../support/try-run.js';
import type { BringInDesk, BringInFactory, BringInLayout } from './bring-in.js';
import type { Axis, Reading } from './crew.js';
import { divisionOf, jobOf, pressStations } from './layout-files.js';

export type BringInObeying = {
  /** The press file says which way the knobs go; where it does not, the board finds out. */
  readonly senseGiven?: boolean;
  /** How many times too large the job tells the scatter of a reading. */
  readonly believedFactor?: number;
  readonly watch?: (desk: BringInDesk, plan: MakeReadyPlan, run: TryRun) => void;
};

/** Times that one sample is looked at, before the crew goes on whatever the board says. */
const LOOKS = 6;

export const boardBringIn =
  (how: BringInObeying = {}): BringInFactory =>
  (layout) => ({
    name: 'the board, obeyed',
    bring: (desk) => {
      const run = runOn(layout, how);
      const others = layout.stations.filter((s) => s.id !== layout.referenceId).map((s) => s.id);
      let web_m = 0;
      let checks = 0;
      const key = (ids: readonly string[]): void => {
        checks += 1;
        const got = new Map(ids.map((id): [string, Reading] => [id, desk.read(id)]));
        run.put({
          type: 'check',
          check: checks,
          web_m,
          roll: null,
          pulled_at: null,
          source: 'keyed',
          place: null,
          readings: [...got].map(([id, r]) => reading(id, { along_mm: r.along, across_mm: r.across })),
        });
      };
      while (desk.pull()) {
        web_m = desk.metres();
        key(others);
        let plan = planOfMakeReady(run.state());
        for (let look = 0; look < LOOKS && plan.read_again.length > 0; look++) {
          key(plan.read_again);
          plan = planOfMakeReady(run.state());
        }
        how.watch?.(desk, plan, run);
        if (plan.ready) return desk.done();
        obey(desk, run, layout, plan.moves, web_m);
      }
    },
  });

/** All teeth in one stop, then the knobs; by the mark, as the board says. */
const obey = (desk: BringInDesk, run: TryRun, layout: BringInLayout, moves: readonly Move[], web_m: number): void => {
  const teeth = moves.flatMap((m) => {
    const way = m.move_mm < 0 ? -1 : 1;
    return m.teeth === 0 ? [] : [{ station: m.station, teeth: m.teeth * way }];
  });
  if (teeth.length > 0) desk.stopAndTeeth(teeth);
  for (const move of moves) {
    const way = move.move_mm < 0 ? -1 : 1;
    const division = layout.stations.find((s) => s.id === move.station)?.divisionMm[move.axis] ?? 0.02;
    const tooth_mm = move.axis === 'along' ? move.teeth * way * layout.toothMm : 0;
    const mark = move.knob === move.turn ? 1 : -1;
    const wanted = move.move_mm - tooth_mm;
    const divisions = move.divisions === null ? Math.round(wanted / division) : move.divisions * way;
    const turned = divisions === 0 ? 0 : desk.turn(move.station, move.axis, divisions * mark) * mark;
    if (tooth_mm === 0 && turned === 0) continue;
    run.put({
      type: 'correction',
      station: move.station,
      axis: move.axis,
      move_mm: tooth_mm + turned * division,
      teeth: move.teeth * way,
      divisions: move.divisions === null ? null : turned,
      web_m,
    });
  }
};

const runOn = (layout: BringInLayout, how: BringInObeying): TryRun => {
  const knobs = (axis: Axis): object => ({
    ...(layout.knobs === 'unmeasured' ? {} : { division_mm: divisionOf(layout, axis) }),
    travel_mm: layout.travelMm,
    ...(how.senseGiven === false ? {} : { sense: 1 }),
    while_running: true,
  });
  return tryRun({
    make_ready: true,
    press: {
      gear: undefined,
      tooth_mm: layout.toothMm,
      stations: pressStations(layout),
      sample_m: layout.sampleM,
      knobs: { along: knobs('along'), across: knobs('across') },
      helix_deg: (Math.atan(layout.helical) * 180) / Math.PI,
    },
    job: jobOf({ ...layout, believedScatterMm: layout.believedScatterMm * (how.believedFactor ?? 1) }),
  });
};
