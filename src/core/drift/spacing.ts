/** What stands for a distance that is not known yet. */
export const UNKNOWN_M = 1;

/** How many usual distances between checks a stretch of web is; one, while the usual distance is not known. */
export const stepsIn = (metres: number, spacing_m: number): number =>
  spacing_m <= UNKNOWN_M ? (metres > 0 ? 1 : 0) : Math.max(0, metres) / spacing_m;

/** The usual distance between checks, m: the mean over the window; 1 before there are two places. */
export const spacingOf = (
  entries: readonly { readonly web_m: number; readonly again?: boolean }[],
  web_m: number,
): number => {
  const first = entries[0];
  if (first === undefined) return UNKNOWN_M;
  const mean = (web_m - first.web_m) / Math.max(1, entries.filter((e) => e.again !== true).length);
  return mean > 0 ? mean : UNKNOWN_M;
};
