/**
 * Goes with every advice to wash. Source: TRADE sections 5 and 9 (soft cloth or brush and the plate maker's cleaner; inch, stop,
 * then clean; never a hand to a moving plate).
 */
export const WASH_CAUTION =
  'Wash only with the press stopped and made safe by site rules, never a moving plate. Soft cloth or brush, the cleaner the plate maker allows, solvents by their safety sheets. Site procedure and local codes first.';
