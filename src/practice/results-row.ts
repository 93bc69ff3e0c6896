import { harmless } from '../core/readings/harmless.js';
import type { Truth } from './truth.js';

/** Columns of the results file, in order. */
export const RESULTS_HEADER =
  'student,exercise,title,seed,finished,points,waste_m,waste_labels,best_m,advised_m,untouched_m,touches,checks,refusals,at';

/** One student's exercise as a line of the results file. Text that a spreadsheet would take for a formula is made harmless. */
export const resultsRow = (student: string, truth: Truth, at: string): string =>
  [
    student,
    truth.exercise,
    truth.title,
    truth.seed,
    truth.finished ? 'yes' : 'no',
    truth.points,
    truth.you.waste.metres,
    truth.you.waste.labels,
    truth.best.waste.metres,
    truth.advised.waste.metres,
    truth.untouched.waste.metres,
    truth.you.touches,
    truth.you.checks,
    truth.refusals,
    at,
  ]
    .map(cell)
    .join(',');

const cell = (value: string | number): string => {
  const text = typeof value === 'number' ? String(value) : harmless(value);
  return /[",\r\n]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text;
};
