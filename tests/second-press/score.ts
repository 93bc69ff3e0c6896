/** Metres truly out, from the systematic positions, every `STEP_M` metres of the product. */
import { AXES, type Layout, type Span } from './crew.js';
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

const AXIS_NOS: readonly AxisNo[] = [0, 1];

export const judgeProduct = (layout: Layout, truth: Truth, totalM: number, held: readonly Span[]): Product => {
  const by: Record<string, number> = {};
  const byCause: Record<string, number> = {};
  const outSpans: OutSpan[] = [];
  const open = new Map<number, { fromM: number; toM: number; cause: string }>();
  let metresOut = 0;
  let releasedOut = 0;
  let heldGood = 0;
  const close = (key: number): void => {
    const span = open.get(key);
    const axis = AXES[key % 2];
    const station = layout.stations[key >> 1];
    if (span && axis && station) outSpans.push({ ...span, station: station.id, axis });
    open.delete(key);
  };
  for (let m = STEP_M / 2; m < totalM; m += STEP_M) {
    let worst = 1;
    let worstKey = -1;
    for (const a of AXIS_NOS) {
      const axis = AXES[a] ?? 'along';
      const r = truth.position(truth.reference, a, m - (truth.places[truth.reference]?.[a].lagM ?? 0));
      for (let k = 0; k < layout.stations.length; k++) {
        const station = layout.stations[k];
        if (station === undefined || k === truth.reference) continue;
        const key = k * 2 + a;
        const lagM = layout.sampleM - station.atM;
        const parts = Math.abs(truth.position(k, a, m - lagM) - r) / station.tolerance[axis];
        if (parts <= 1) {
          if (open.has(key)) close(key);
          continue;
        }
        const id = `${station.id}/${axis}`;
        by[id] = (by[id] ?? 0) + STEP_M;
        const span = open.get(key);
        if (span) span.toM = m + STEP_M / 2;
        else open.set(key, { fromM: m - STEP_M / 2, toM: m + STEP_M / 2, cause: truth.cause(k, a, m) });
        if (parts > worst) {
          worst = parts;
          worstKey = key;
        }
      }
    }
    const isHeld = held.some((h) => m > h.fromM && m <= h.toM);
    if (worstKey >= 0) {
      metresOut += STEP_M;
      if (!isHeld) releasedOut += STEP_M;
      const cause = truth.cause(worstKey >> 1, worstKey % 2 === 0 ? 0 : 1, m);
      byCause[cause] = (byCause[cause] ?? 0) + STEP_M;
    } else if (isHeld) heldGood += STEP_M;
  }
  for (const key of [...open.keys()]) close(key);
  return { metresOut, metresOutBy: by, metresOutByCause: byCause, releasedOut, heldGood, outSpans };
};
