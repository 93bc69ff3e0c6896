import { notClean } from '../../core/plates/not-clean.js';
import type { PlateGrade } from '../../core/record.js';
import { fail, ok, type Result } from '../../core/result.js';

export type PlateKeyed = {
  readonly grade: PlateGrade | null;
  readonly flaws: number | null;
  readonly labels: number | null;
};

/** A plate field: c, b or d for the grade, and flaws counted in so many labels: "b 3/40", "0/50", "d". */
export function parsePlate(text: string): Result<PlateKeyed> {
  const found = /^\s*([cbd]?)\s*(?:(\d{1,4})(?:\/(\d{1,5}))?)?\s*$/i.exec(text);
  if (found === null) return fail(`"${text}" is not a plate grade: c clean, b building, d dirty; flaws as 3/40.`);
  const letter = (found[1] ?? '').toLowerCase();
  const grade = letter === 'c' ? 'clean' : letter === 'b' ? 'building' : letter === 'd' ? 'dirty' : null;
  if (found[2] === undefined) return ok({ grade, flaws: null, labels: null });
  if (found[3] === undefined) return fail(`${found[2]} flaws in how many labels? Key it as ${found[2]}/40.`);
  if (Number(found[3]) === 0) return fail('Flaws in 0 labels: key how many labels were looked at.');
  const [flaws, labels] = [Number(found[2]), Number(found[3])];
  const against = notClean(grade, flaws, labels);
  return against === null ? ok({ grade, flaws, labels }) : fail(against);
}

/** What the field shows: "building, 3 in 40". */
export function plateEcho(text: string): string {
  const read = parsePlate(text);
  if (!read.ok) return `${text} ?`;
  const flaws = read.value.flaws === null ? '' : `${read.value.flaws} in ${read.value.labels}`;
  return [read.value.grade ?? '', flaws].filter((one) => one !== '').join(', ');
}
