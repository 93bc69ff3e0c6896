/** What one station's gear and knob can do on one axis. mm of print movement. */
export type Reach = {
  /** Print movement of one gear tooth; null where there is no gear to re-mesh (side to side). */
  readonly tooth_mm: number | null;
  /** Printed repeat: a move of a whole repeat is no move; null side to side. */
  readonly repeat_mm: number | null;
  /** Movement of one knob division; null = not measured, then the knob is split in mm only. */
  readonly division_mm: number | null;
  /** Knob travel each way from centre; null = not known, then nothing limits it. */
  readonly travel_mm: number | null;
  /** Sum of knob moves since it was centred, signed like the print's move. */
  readonly used_mm: number;
};

/** Signs are the print's: + ahead / + operator side. */
export type Split = {
  readonly teeth: number;
  readonly divisions: number | null;
  readonly knob_mm: number;
  /** teeth × tooth + knob_mm: what is really turned. */
  readonly move_mm: number;
  /** Wanted (modulo the repeat) minus what is turned: rounding, or travel that is not there. */
  readonly short_mm: number;
  /** The knob alone could not go all the way and no whole tooth helps. */
  readonly out_of_travel: boolean;
};

/**
 * Splits a wanted movement of the print into whole gear teeth and knob divisions.
 * How: reduced modulo the repeat into (−P/2, +P/2]; n = round(e / tooth) teeth, so the knob never has more than half a tooth
 * to go and a move of less than half a tooth is knob only; where the knob's travel left does not reach, the nearest whole
 * tooth that makes it reach is taken (a tooth one way and divisions back may be the right move); the knob goes the nearest
 * whole division, a half towards less. Never beyond the travel left: what cannot be done stays in `short_mm`.
 * Source: n and the modulo are TRADE section 1, derived there; whole teeth for about a tooth and more: common practice, no source.
 * Example: +0.410 in on 1/8 in CP is 3 teeth and +0.035 in by knob; 11.90 in of a 12 in repeat is −0.10 in.
 */
export const splitMove = (wanted_mm: number, reach: Reach): Split => {
  const wanted = reach.repeat_mm === null ? wanted_mm : moduloRepeat(wanted_mm, reach.repeat_mm);
  if (reach.tooth_mm === null) return withTeeth(wanted, 0, reach);
  const nearest = halfTowardsZero(wanted / reach.tooth_mm);
  const first = withTeeth(wanted, nearest, reach);
  if (!first.out_of_travel) return first;
  const around = reach.travel_mm === null ? 1 : Math.ceil(reach.travel_mm / reach.tooth_mm) + 1;
  let best = first;
  for (let step = 1; step <= around; step += 1) {
    for (const teeth of [nearest - step, nearest + step]) {
      const tried = withTeeth(wanted, teeth, reach);
      if (better(tried, best)) best = tried;
    }
    if (!best.out_of_travel) return best;
  }
  return best;
};

/** Short way round: a movement reduced into (−P/2, +P/2]. */
export const moduloRepeat = (move_mm: number, repeat_mm: number): number => {
  const turned = move_mm - repeat_mm * Math.round(move_mm / repeat_mm);
  return turned <= -repeat_mm / 2 ? turned + repeat_mm : turned;
};

/** Travel left each way, mm: [towards behind / gear side (≤ 0), towards ahead / operator side (≥ 0)]. */
export const travelLeft = (travel_mm: number | null, used_mm: number): readonly [number, number] =>
  travel_mm === null
    ? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]
    : [Math.min(0, -travel_mm - used_mm), Math.max(0, travel_mm - used_mm)];

const SLACK_MM = 1e-9;

const withTeeth = (wanted: number, teeth: number, reach: Reach): Split => {
  const rest = wanted - teeth * (reach.tooth_mm ?? 0);
  const [back, forth] = travelLeft(reach.travel_mm, reach.used_mm);
  const division = reach.division_mm;
  const clipped = Math.min(forth, Math.max(back, rest));
  const whole = division === null ? null : wholeDivisions(clipped, division, back, forth);
  const knob = division === null || whole === null ? clipped : whole * division;
  const move = teeth * (reach.tooth_mm ?? 0) + knob;
  return {
    teeth: teeth + 0,
    divisions: whole,
    knob_mm: knob,
    move_mm: move,
    short_mm: wanted - move,
    // By what is turned, not by where the travel ends: its last part may be less than a division.
    out_of_travel: Math.abs(wanted - move) > (division ?? 0) / 2 + SLACK_MM,
  };
};

const wholeDivisions = (knob: number, division: number, back: number, forth: number): number => {
  const count = halfTowardsZero(knob / division);
  if (count * division > forth + SLACK_MM) return count - 1;
  if (count * division < back - SLACK_MM) return count + 1;
  return count;
};

/** Nearest whole number, a half going towards zero, alike for both signs (and never −0). */
const halfTowardsZero = (x: number): number => Math.sign(x) * Math.max(0, Math.ceil(Math.abs(x) - 0.5 - 1e-9)) + 0;

const better = (a: Split, b: Split): boolean => {
  if (a.out_of_travel !== b.out_of_travel) return b.out_of_travel;
  const gain = Math.abs(b.short_mm) - Math.abs(a.short_mm);
  if (a.out_of_travel && Math.abs(gain) > SLACK_MM) return gain > 0;
  if (Math.abs(a.teeth) !== Math.abs(b.teeth)) return Math.abs(a.teeth) < Math.abs(b.teeth);
  return Math.abs(a.knob_mm) < Math.abs(b.knob_mm) - SLACK_MM;
};
