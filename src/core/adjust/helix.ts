/**
 * How far a side move also moves the print along the web on helical drive gears: dy × tan(helix), mm; the sign of the angle is
 * the press file's. Spur gears (0°): nothing. Source: TRADE section 3, geometry. Example: 15°, 0.010 in is 0.00268 in.
 */
export const helixShift = (across_mm: number, helix_deg: number): number =>
  across_mm * Math.tan((helix_deg * Math.PI) / 180);
