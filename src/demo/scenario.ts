/**
 * The built-in run: plum-jam lid labels on Line B, one shift of it. Everything here is invented. Millimetres, metres; a roll's index is
 * the check taken when it comes off.
 */
export const SCENARIO = {
  seed: 23,
  begins: '2026-03-02T05:40:00.000Z',
  speed_m_min: 125,
  roll_m: 1500,
  checks: 48,
  /** Reading with a loupe, and each unit trembling on its own, 1 sigma. */
  reading_sd_mm: 0.022,
  tremble_sd_mm: 0.01,
  resolution_mm: 0.01,
  /** The reference's knob creeps from this check on, so much a check, until its lock is found loose and done up. */
  reference: { from: 11, mm_per_check: 0.012, until: 20 },
  /** A digit slips: 0.50 keyed for 0.05. */
  slip: { check: 8, station: '3', along_mm: 0.5 },
  /** New stock pulls more: the web is longer until its tension is set back. */
  tension: { from: 27, until: 31, mm_per_m: -0.018 },
  /** Flaws a label on the black plate grow until it is washed: ink dries in where the image begins. */
  plate: {
    station: '5',
    from: 33,
    usual: 0.06,
    growth: 0.34,
    washed: 37,
    flaw: { kind: 'fill-in', edge: 'leading', comes: 'same place' },
  },
  /** A knocked knob. */
  knock: { check: 41, station: '4', axis: 'across', mm: -0.13 },
  knob_error: 0.08,
  labels_looked: 5,
} as const;
