/** How many labels a metre of web carries: what the repeat is, and how many are on it. */
export type LabelCount = { readonly repeat_m: number; readonly around: number; readonly across: number };

/**
 * Labels on so many metres: metres ÷ repeat × around × across, rounded up.
 * Example (CONTRACT): 4 550 m, repeat 304.8 mm, 3 around, 4 across: 179 134.
 */
export const labelsIn = (metres: number, count: LabelCount): number =>
  Math.max(0, Math.ceil((Math.max(0, metres) / count.repeat_m) * count.around * count.across - 1e-6));
