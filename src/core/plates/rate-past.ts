import type { PlateState } from './plate-state.js';
import type { Rate } from './usual-rate.js';

/** The plate's own counts, the first `many` looks of the window among them, beside what the other plates teach. */
export const ratePast = (plate: PlateState, others: Rate, many: number): Rate => {
  let flaws = plate.usual.flaws + others.flaws;
  let labels = plate.usual.labels + others.labels;
  for (let i = 0; i < many; i += 1) {
    flaws += plate.looks[i]?.flaws ?? 0;
    labels += plate.looks[i]?.labels ?? 0;
  }
  return { flaws, labels };
};

/** What was usual up to the look before this one. */
export const knownBefore = (plate: PlateState, others: Rate): Rate => ratePast(plate, others, plate.looks.length - 1);
