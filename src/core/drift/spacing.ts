/** The usual distance between checks, m: the mean over the window; 1 before there are two places. */
export const spacingOf = (entries: readonly { readonly web_m: number }[], web_m: number): number => {
  const first = entries[0];
  if (first === undefined) return 1;
  const mean = (web_m - first.web_m) / entries.length;
  return mean > 0 ? mean : 1;
};
