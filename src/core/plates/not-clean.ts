import type { PlateGrade } from '../record.js';

/** So many flaws, and more than one in so many labels, is not what anybody calls clean (own choice, no source). */
const FEW = 3;
const ONE_IN = 10;

/** Why a grade and a count cannot both be so, in words; null = they can. A speck or two in forty labels does not make a plate unclean. */
export const notClean = (grade: PlateGrade | null, flaws: number | null, labels: number | null): string | null =>
  grade === 'clean' && flaws !== null && labels !== null && flaws > FEW && flaws * ONE_IN > labels
    ? `Clean, with ${flaws} flaws in ${labels} labels? Grade it b building or d dirty, or key the count alone.`
    : null;
