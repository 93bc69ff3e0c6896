/** Where each finished roll ended; `told` false: only known from the checks that came off it so far. */
export type RollEnd = { readonly roll: string; readonly end_m: number; readonly told: boolean };

/** A stretch held over more rolls than this names the newest. */
const KEPT = 500;

/** A finished roll came off at this counter. */
export const rollFinished = (ends: readonly RollEnd[], roll: string, web_m: number): readonly RollEnd[] =>
  placed(ends, { roll, end_m: web_m, told: true });

/** A check came off this roll: until it is told finished, it reaches at least to here. */
export const rollSeen = (ends: readonly RollEnd[], roll: string | null, web_m: number): readonly RollEnd[] => {
  if (roll === null) return ends;
  const known = ends.findLast((end) => end.roll === roll);
  if (known?.told === true || (known !== undefined && known.end_m >= web_m)) return ends;
  if (known !== undefined && known === ends.at(-1)) return ends.with(-1, { ...known, end_m: web_m });
  return placed(ends, { roll, end_m: web_m, told: false });
};

/**
 * Finished rolls that overlap the stretch (from, to], in web order. A roll reaches from the end of the one before to its own end;
 * the last one seen, when not told finished, has no end yet.
 */
export const rollsWithin = (ends: readonly RollEnd[], from_m: number, to_m: number): readonly string[] =>
  ends.flatMap(({ roll, end_m, told }, i) => {
    const start = ends[i - 1]?.end_m ?? Number.NEGATIVE_INFINITY;
    const end = !told && i === ends.length - 1 ? Number.POSITIVE_INFINITY : end_m;
    return end > from_m && start < to_m ? [roll] : [];
  });

/** In web order, the roll's older entry gone; nearly always at the end. */
const placed = (ends: readonly RollEnd[], next: RollEnd): readonly RollEnd[] => {
  const others = ends.filter((end) => end.roll !== next.roll);
  const after = others.at(-1);
  const all = [...others, next];
  return (after === undefined || after.end_m <= next.end_m ? all : all.toSorted((a, b) => a.end_m - b.end_m)).slice(
    -KEPT,
  );
};
