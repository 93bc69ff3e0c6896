/** Corrections in a row of one station after which its reading stood on the other side of the aim, and the last reading. */
export type Swing = { readonly flips: number; readonly last: number | null };

/** Corrections that overshot in a row for it to be called over-adjusting. */
const FLIPS = 3;
/** A correction of at least this share of the reading before it is one made on that reading. */
const MADE_ON_IT = 0.6;

export const stillSwing: Swing = { flips: 0, last: null };

/**
 * Counts corrections that only throw the register to the other side: each about as large as the reading before it and followed by a
 * reading of the other sign (lag-one correlation near −0.5 when every reading is corrected in full). A reading null is not read.
 */
export const stepSwing = (swing: Swing, reading: number | null, change: number): Swing => {
  if (reading === null) return swing;
  if (change === 0 || swing.last === null) return { flips: swing.flips, last: reading };
  const overshot =
    swing.last * reading < 0 && change * swing.last < 0 && Math.abs(change) >= MADE_ON_IT * Math.abs(swing.last);
  return { flips: overshot ? swing.flips + 1 : 0, last: reading };
};

export const isOverAdjusting = (swing: Swing): boolean => swing.flips >= FLIPS;
