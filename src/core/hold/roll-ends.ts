/** Where each finished roll ended; `told` false: only known from the checks that came off it so far. */
export type RollEnd = { readonly roll: string; readonly end_m: number; readonly told: boolean };

/** The part of one finished roll that lies in a stretch; `to_m` null = both go on. */
export type RollPart = { readonly roll: string; readonly from_m: number; readonly to_m: number | null };

/** A stretch held over more rolls than this names the newest. */
const KEPT = 500;

/** A finished roll came off at this counter. */
export const rollFinished = (ends: readonly RollEnd[], roll: string, web_m: number): readonly RollEnd[] => {
  const all = placed(ends, { roll, end_m: web_m, told: true });
  // A number that only a check carried, between a roll and the very next one, was a wrong number: there was no roll between.
  return all.filter((end, i) => {
    const before = all.slice(0, i).findLast((e) => e.told);
    const after = all.slice(i + 1).find((e) => e.told);
    return end.told || before === undefined || after === undefined || rollAfter(before.roll) !== after.roll;
  });
};

/** A check came off this roll: until it is told finished, it reaches at least to here. */
export const rollSeen = (ends: readonly RollEnd[], roll: string | null, web_m: number): readonly RollEnd[] => {
  if (roll === null) return ends;
  const known = ends[lastOf(ends, roll)];
  if (known?.told === true || (known !== undefined && known.end_m >= web_m)) return ends;
  if (known !== undefined && known === ends.at(-1)) return ends.with(-1, { ...known, end_m: web_m });
  if (known === undefined && (ends.at(-1)?.end_m ?? web_m) <= web_m)
    return [...ends, { roll, end_m: web_m, told: false }].slice(-KEPT);
  return placed(ends, { roll, end_m: web_m, told: false });
};

/** A plain loop: asked at every check, over all rolls of the run. */
const lastOf = (ends: readonly RollEnd[], roll: string): number => {
  for (let i = ends.length - 1; i >= 0; i--) if (ends[i]?.roll === roll) return i;
  return -1;
};

/**
 * What the roll on the rewind is called: the last one seen when it was not told finished, else one more than the last that came off. Where
 * rolls are not numbered, "after A7": it gets its name when it comes off.
 */
export const rollOnRewind = (ends: readonly RollEnd[]): string => {
  const last = ends.at(-1);
  if (last === undefined) return '1';
  return last.told ? (rollAfter(last.roll) ?? `after ${last.roll}`) : last.roll;
};

/** One more than this roll; null where rolls are not numbered. */
export const rollAfter = (roll: string): string | null => {
  const n = Number(roll);
  return roll.trim() !== '' && Number.isSafeInteger(n) && n >= 0 ? String(n + 1) : null;
};

/**
 * Every finished roll that overlaps the stretch (from, to], in web order, and which part of it. Rolls are worked out from where rolls ended,
 * whatever the checks carried: a roll reaches from the end of the one before to its own end, and what was made since the last end is on the
 * roll on the rewind. So the parts cover the stretch without a gap. `to_m` null = the stretch goes on.
 */
export const rollParts = (ends: readonly RollEnd[], from_m: number, to_m: number | null): readonly RollPart[] => {
  const stretch_m = to_m ?? Number.POSITIVE_INFINITY;
  const last = ends.at(-1);
  const winding = last !== undefined && !last.told ? ends.slice(0, -1) : ends;
  const rolls = [
    ...winding.map(({ roll, end_m }) => ({ roll, end_m })),
    { roll: rollOnRewind(ends), end_m: Number.POSITIVE_INFINITY },
  ];
  return rolls.flatMap(({ roll, end_m }, i) => {
    const start_m = rolls[i - 1]?.end_m ?? Number.NEGATIVE_INFINITY;
    if (end_m <= from_m || start_m >= stretch_m) return [];
    const part_m = Math.min(end_m, stretch_m);
    return [{ roll, from_m: Math.max(from_m, start_m), to_m: Number.isFinite(part_m) ? part_m : null }];
  });
};

/** The rolls alone. */
export const rollsWithin = (ends: readonly RollEnd[], from_m: number, to_m: number | null): readonly string[] => [
  ...new Set(rollParts(ends, from_m, to_m).map(({ roll }) => roll)),
];

/** In web order, the roll's older entry gone; nearly always at the end. */
const placed = (ends: readonly RollEnd[], next: RollEnd): readonly RollEnd[] => {
  const others = ends.filter((end) => end.roll !== next.roll);
  const after = others.at(-1);
  const all = [...others, next];
  return (after === undefined || after.end_m <= next.end_m ? all : all.toSorted((a, b) => a.end_m - b.end_m)).slice(
    -KEPT,
  );
};
