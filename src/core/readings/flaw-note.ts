import { flawFields, flawFrom, flawList } from '../plates/flaw.js';
import type { PlateGrade, StationReading } from '../record.js';

const MARK = 'flaw: ';

/**
 * The note of a reading in a CSV, which has no column for what the flaw on a plate is: `flaw: fill-in, leading edge, same place`
 * on a line of its own before whatever else was noted. `flaw` as `flawList` writes it; '' = nothing was said.
 */
export const withFlaw = (flaw: string, note: string | null): string | null =>
  flaw === '' ? note : `${MARK}${flaw}${note === null ? '' : `\n${note}`}`;

/** The other way. A note is never refused: what is no such line, or stands at a plate that is clean or not graded, stays a note. */
export const fromFlawNote = (
  note: string | null,
  plate: PlateGrade | null,
): Pick<StationReading, 'flaw_kind' | 'flaw_edge' | 'flaw_comes' | 'note'> => {
  if (note === null) return {};
  const [first = '', ...rest] = note.split(/\r?\n/);
  const isFlaw = /^flaw:/i.test(first) && plate !== null && plate !== 'clean';
  const flaw = isFlaw ? flawFrom(first.slice(MARK.length - 1)) : null;
  if (flaw === null || !flaw.ok || flawList(flaw.value) === '') return { note };
  return { ...flawFields(flaw.value), ...(rest.length === 0 ? {} : { note: rest.join('\n') }) };
};
