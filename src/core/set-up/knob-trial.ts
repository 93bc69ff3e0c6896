/** What turning a knob and reading before and after says of it. */
export type KnobTrial =
  | {
      readonly kind: 'measured';
      /** Print movement of one division, mm, with its uncertainty: 1 sigma and a 95 % interval. */
      readonly division_mm: number;
      readonly sd_mm: number;
      readonly low_mm: number;
      readonly high_mm: number;
      /** −1: the print went the other way than the mark says. */
      readonly sense: 1 | -1;
    }
  | {
      readonly kind: 'not enough';
      readonly why: string;
      /** So many divisions would tell, if the print moves as it seems to; null = nothing to go by. */
      readonly divisions: number | null;
    };

/**
 * How far the print moves for one division of a knob, from a trial: read, turn so many divisions, read again off a sample printed wholly afterwards.
 * `divisions`: + the way the mark says ahead (along) or operator side (across), − the other way; last motion the same way before both readings, so that slack
 * does not enter. `reading_sd_mm`: scatter of one reading, 1 sigma; several readings of a sample may be given, their mean is used.
 *
 * The size is the difference of the means over the divisions; its uncertainty that of the two means, taken as independent, over the divisions (JCGM
 * 100:2008, section 5.1.2). A difference within two sigma of nothing does not say which way the print went, and so is not enough; nor is a size known no
 * better than to a third. What a hand leaves short of the mark is not in it. Example: 0.02 before, −0.18 after ten divisions, read to 0.02: 0.020 ± 0.003
 * mm a division, the other way than the mark says.
 */
export const knobTrial = (
  before_mm: number | readonly number[],
  after_mm: number | readonly number[],
  divisions: number,
  reading_sd_mm: number,
): KnobTrial => {
  const [before, after] = [listOf(before_mm), listOf(after_mm)];
  const unread = before.length === 0 || after.length === 0 || ![...before, ...after].every(Number.isFinite);
  if (unread) return short('the register before and after the turn must both be read');
  if (!Number.isFinite(divisions) || divisions === 0) return short('the knob was not turned');
  if (!(reading_sd_mm > 0)) return short('it is not known how much readings scatter');
  const moved_mm = mean(after) - mean(before);
  const moved_sd_mm = reading_sd_mm * Math.sqrt(1 / before.length + 1 / after.length);
  const division_mm = Math.abs(moved_mm / divisions);
  const sd_mm = moved_sd_mm / Math.abs(divisions);
  if (Math.abs(moved_mm) < TELLS * moved_sd_mm)
    return short('the print did not move by more than readings scatter: turn further, or read again');
  if (sd_mm > division_mm * KNOWN_TO) {
    const more = Math.ceil(moved_sd_mm / (division_mm * KNOWN_TO));
    return { kind: 'not enough', why: `too rough to go by: turn ${more} divisions, or read again`, divisions: more };
  }
  const half = NORMAL_95 * sd_mm;
  const sense = moved_mm * divisions > 0 ? 1 : -1;
  return {
    kind: 'measured',
    division_mm,
    sd_mm,
    low_mm: Math.max(0, division_mm - half),
    high_mm: division_mm + half,
    sense,
  };
};

const TELLS = 2;
const KNOWN_TO = 1 / 3;
const NORMAL_95 = 1.96;

const short = (why: string): KnobTrial => ({ kind: 'not enough', why, divisions: null });

const listOf = (mm: number | readonly number[]): readonly number[] => (typeof mm === 'number' ? [mm] : mm);

const mean = (values: readonly number[]): number => values.reduce((sum, x) => sum + x, 0) / values.length;
