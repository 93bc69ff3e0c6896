/**
 * In which zone of a chart a reading lies: +-1 within one third of the way to the limit, +-2 and +-3 further out, +-4
 * beyond the limit, 0 exactly on the centre. A reading exactly on a line counts as inside it.
 * Source: Western Electric, Statistical Quality Control Handbook (1956), zones C, B and A.
 * Example: centre 10, sigma 1, width 3: 12 is zone 2, 12.1 zone 3, 13.2 zone 4, 9.5 zone -1.
 */
export type Zone = -4 | -3 | -2 | -1 | 0 | 1 | 2 | 3 | 4;

export type ZoneLines = { readonly centre: number; readonly sigma: number; readonly width: number };

export const zoneOf = (lines: ZoneLines, value: number): Zone => {
  const { centre, sigma, width } = lines;
  const third = width / 3;
  if (value > centre + width * sigma) return 4;
  if (value < centre - width * sigma) return -4;
  if (value > centre + 2 * third * sigma) return 3;
  if (value < centre - 2 * third * sigma) return -3;
  if (value > centre + third * sigma) return 2;
  if (value < centre - third * sigma) return -2;
  if (value > centre) return 1;
  if (value < centre) return -1;
  return 0;
};
