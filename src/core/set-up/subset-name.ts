/** Some of the stations as one answer that reads back as the same ones, and still makes sense when a station is added. */
export const subsetName = (chosen: readonly string[], ids: readonly string[]): string => {
  const out = ids.filter((id) => !chosen.includes(id));
  if (out.length === 0) return 'all';
  if (chosen.length === 0) return 'none';
  const join = (some: readonly string[]): string => some.join(some.some((id) => id.includes(' ')) ? ', ' : ' ');
  return out.length < chosen.length ? `all but ${join(out)}` : join(chosen);
};
