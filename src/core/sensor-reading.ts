/** What a sensor read of one station at one repeat; along and across null = it looked and found no usable mark (a bad read). */
export type SensorReading = {
  readonly station: string;
  readonly along_mm: number | null;
  readonly across_mm: number | null;
  /** Mark strength, 0 none to 1 full; null = not sent. */
  readonly strength: number | null;
  /** Width of the mark, mm; null = not sent. */
  readonly width_mm: number | null;
};
