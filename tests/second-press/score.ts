/** Metres truly out, from the systematic positions, every `STEP_M` metres of the product. */
import { AXES, type Axis, type Layout, type Span } from './crew.js';
import type { OutSpan } from './press.js';
import type { AxisNo, Truth } from './truth.js';

const STEP_M = 10;

export type Product = {
  readonly metresOut: number;
  readonly metresOutBy: Record<string, number>;
  readonly metresOutByCause: Record<string, number>;
  readonly releasedOut: number;
  readonly heldGood: number;
  readonly outSpans: OutSpan[];
};

/** One station and axis followed down the web. */
type Lane = {
  readonly k: number;
  readonly a: AxisNo;
  readonly station: string;
  readonly axis: Axis;
  readonly lagM: number;
  readonly tolerance: number;
  out: number;
  open: { fromM: number; toM: number; cause: string } | null;
};

const lanesOf = (layout: Layout, truth: Truth, a: AxisNo): Lane[] =>
  layout.stations.flatMap((x, k) => {
    const axis = AXES[a] ?? 'along';
    const lane = { k, a, station: x.id, axis, lagM: layout.sampleM - x.atM, tolerance: x.tolerance[axis] };
    return k === truth.reference ? [] : [{ ...lane, out: 0, open: null }];
  });

export const judgeProduct = (layout: Layout, truth: Truth, totalM: number, held: readonly Span[]): Product => {
  const byCause: Record<string, number> = {};
  const outSpans: OutSpan[] = [];
  const both = [lanesOf(layout, truth, 0), lanesOf(layout, truth, 1)];
  const referenceLagM = layout.sampleM - (layout.stations[truth.reference]?.atM ?? 0);
  let metresOut = 0;
  let releasedOut = 0;
  let heldGood = 0;
  const close = (lane: Lane): void => {
    if (lane.open) outSpans.push({ ...lane.open, station: lane.station, axis: lane.axis });
    lane.open = null;
  };
  for (let m = STEP_M / 2; m < totalM; m += STEP_M) {
    let worst = 1;
    let worstLane: Lane | null = null;
    for (const lanes of both) {
      const reference = truth.position(truth.reference, lanes === both[0] ? 0 : 1, m - referenceLagM);
      for (const lane of lanes) {
        const parts = Math.abs(truth.position(lane.k, lane.a, m - lane.lagM) - reference) / lane.tolerance;
        if (parts <= 1) {
          if (lane.open) close(lane);
          continue;
        }
        lane.out += STEP_M;
        lane.open ??= { fromM: m - STEP_M / 2, toM: m, cause: truth.cause(lane.k, lane.a, m) };
        lane.open.toM = m + STEP_M / 2;
        if (parts > worst) {
          worst = parts;
          worstLane = lane;
        }
      }
    }
    const isHeld = held.length > 0 && held.some((h) => m > h.fromM && m <= h.toM);
    if (worstLane) {
      metresOut += STEP_M;
      if (!isHeld) releasedOut += STEP_M;
      const cause = worstLane.open?.cause ?? '';
      byCause[cause] = (byCause[cause] ?? 0) + STEP_M;
    } else if (isHeld) heldGood += STEP_M;
  }
  for (const lanes of both) lanes.forEach(close);
  const by = both.flat().flatMap((x) => (x.out > 0 ? [[`${x.station}/${x.axis}`, x.out] as const] : []));
  return {
    metresOut,
    metresOutBy: Object.fromEntries(by),
    metresOutByCause: byCause,
    releasedOut,
    heldGood,
    outSpans,
  };
};
