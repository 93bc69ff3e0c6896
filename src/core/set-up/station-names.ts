/** Names of stations as one answer that reads back as the same names: a count where they are 1 to n, blanks between, commas where a name has a blank. */
export const stationNames = (ids: readonly string[]): string => {
  if (ids.every((id, index) => id === String(index + 1))) return String(ids.length);
  if (ids.length === 1) return `${ids[0]},`;
  return ids.join(ids.some((id) => id.includes(' ')) ? ', ' : ' ');
};
