import { turnsFor } from './make-ready-cost.js';
import type { PlanInput, PlanStation } from './plan-input.js';

/** How far the reference is moved, mm, and for which fixed station; 0 = it is left, as everything is read against it. */
export type ReferenceMove = { readonly mm: number; readonly met: string | null };

/** A fixed station must be off by more than this many sigma of its estimate before all others are moved for it. */
const SURE_SIGMA = 2;
/** Turns that moving the reference must save: its own error is then in every reading. */
const SAVES = 2;

/**
 * Whether the reference is moved. A station that cannot be moved and is off is met by it; else it is moved only where that saves turns
 * (a whole row of stations off alike). What was turned at it already, unasked, stands.
 */
export const referenceMove = (
  input: PlanInput,
  reference: PlanStation | undefined,
  others: readonly PlanStation[],
  bandOf: (s: PlanStation) => number,
  pending_mm: number,
): ReferenceMove => {
  const left = { mm: pending_mm, met: null };
  if (reference === undefined || reference.fixed) return left;
  const fixed = others.filter((s) => s.fixed && s.level_mm !== null);
  const off = fixed.filter((s) => Math.abs(s.level_mm ?? 0) > Math.max(bandOf(s), SURE_SIGMA * (s.sd_mm ?? 0)));
  const [worst] = off.toSorted(
    (a, b) => Math.abs(b.level_mm ?? 0) / b.tolerance_mm - Math.abs(a.level_mm ?? 0) / a.tolerance_mm,
  );
  if (worst !== undefined) return { mm: worst.level_mm ?? 0, met: worst.id };
  if (pending_mm !== 0) return left;
  const turns = (r: number): number => {
    let sum = r === 0 ? 0 : turnsFor(input, r);
    for (const s of others) {
      const mm = r - (s.level_mm ?? r);
      if (Math.abs(mm) <= bandOf(s)) continue;
      if (s.fixed) return Number.POSITIVE_INFINITY;
      sum += turnsFor(input, mm);
    }
    return sum;
  };
  let best = { mm: 0, turns: turns(0) - SAVES + 1e-9 };
  for (const s of others) {
    if (s.level_mm === null || Math.abs(s.level_mm) <= bandOf(s)) continue;
    const n = turns(s.level_mm);
    if (n < best.turns) best = { mm: s.level_mm, turns: n };
  }
  return { mm: best.mm, met: null };
};
