import type { PlateGrade } from './record.js';

const GRADES: readonly PlateGrade[] = ['clean', 'building', 'dirty'];

/** A plate grade as keyed: capitals and any plain beginning of the word are taken; null = none of the grades. */
export const plateGrade = (text: string): PlateGrade | null => {
  const typed = text.trim().toLowerCase();
  return typed === '' ? null : (GRADES.find((g) => g.startsWith(typed)) ?? null);
};
